"""Losses: a loss is a fraction of what is issued, never of what stays in the part."""

from __future__ import annotations

from quoter.figures import N


def issued(net: N, loss: N) -> N:
    """Amount to issue so that the net amount arrives in the part.

        issued = net / (1 - loss)

    Args:
        net: amount that stays in the part [kg]
        loss: fraction of the issued amount that is lost [1]
    Returns:
        amount issued [kg]
    Limits: 0 <= loss < 1
    Source: mass balance.

    >>> issued(8.0, 0.2)
    10.0
    """
    return net / (1 - loss)


def loss_from_waste_on_net(waste: N) -> N:
    """Loss of a shop that quotes its waste on the net amount.

        loss = waste / (1 + waste)

    Args:
        waste: wasted amount / net amount [1]
    Returns:
        fraction of the issued amount that is lost [1]
    Limits: waste >= 0
    Source: mass balance: issued = net + waste * net = net / (1 - loss).

    >>> loss_from_waste_on_net(0.25)
    0.2
    """
    return waste / (1 + waste)


def transfer_loss(efficiency: N) -> N:
    """Loss of a spray whose transfer efficiency is known.

        loss = 1 - efficiency

    Args:
        efficiency: mass on the part / mass sprayed [1]
    Returns:
        fraction of the issued amount that is lost [1]
    Limits: 0 < efficiency <= 1
    Source: definition.

    >>> transfer_loss(0.75)
    0.25
    """
    return 1 - efficiency


def cut_from(net: N, utilisation: N) -> N:
    """Cloth to issue so that the net plies can be cut from it.

        issued = net / utilisation

    Args:
        net: cloth in the plies [kg]
        utilisation: area of the plies / area of the cloth they are nested on [1]
    Returns:
        cloth issued [kg]
    Limits: 0 < utilisation <= 1
    Source: definition of nest utilisation.

    >>> cut_from(8.0, 0.8)
    10.0
    """
    return net / utilisation


def per_unit_of_batch(quantity: N, batch: N) -> N:
    """Material of a batch that each of its units bears, such as what purges a gun.

        issued = quantity / batch

    Args:
        quantity: amount that the batch takes, however many units are in it [kg]
        batch: units of the batch [1]
    Returns:
        amount issued per unit [kg]
    Limits: batch >= 1; none of it stays in a part
    Source: definition of an average.

    >>> per_unit_of_batch(3.0, 4.0)
    0.75
    """
    return quantity / batch


def waste_mass(issued: N, in_part: N) -> N:
    """What is issued and does not stay in the part: offcuts, overspray, what is left in pots.

        waste = issued - in_part

    Args:
        issued: mass issued from stores [kg]
        in_part: mass of it that stays in the part [kg]
    Returns:
        mass to be disposed of [kg]
    Limits: in_part <= issued; what evaporates is counted with it, and the parts that yield scraps
        are not
    Source: mass balance.

    >>> waste_mass(10.0, 8.0)
    2.0
    """
    return issued - in_part
