"""Parts become quantities, quantities costs: material, labour, tooling, overhead and yields.

`takeoff` counts what a part is made of, `assembly` costs one part or option from its take-off and
operations, `rollup` all of a catalogue, `recolour` what a hull colour changes in it.
"""
