"""Quantities become costs: materials, labour, tooling, overhead and yields, rolled up by element.

`assembly` costs one part or option from its take-off and operations, `rollup` all of a catalogue.
"""
