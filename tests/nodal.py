"""Any direct-current network solved by its whole matrix: slow, dense, and nothing in common with the program's solver.

Modified nodal analysis: the unknowns are the voltage of every node and the current of every branch; Kirchhoff's laws and
Ohm's law are the rows (Ho, Ruehli, Brennan, "The modified nodal approach to network analysis", 1975).
"""

import numpy as np
from scipy.linalg import solve


def solved(branches, drawn, sources):
    """Solve a network.

    Parameters
    ----------
    branches
        Name to (node, node, resistance [ohm]); 0 ohm is allowed.
    drawn
        Node to the current that a load takes there [A].
    sources
        Node to the voltage it is held at [V].

    Returns
    -------
    volts, amps
        Voltage of every node [V]; current of every branch from its first node to its second [A].
    """
    nodes = sorted({node for one, other, _ in branches.values() for node in (one, other)} | {*drawn, *sources}, key=str)
    at = {node: row for row, node in enumerate(nodes)}
    size = len(nodes) + len(branches)
    matrix, right = np.zeros((size, size)), np.zeros(size)
    for column, (row, (one, other, ohm)) in enumerate(enumerate(branches.values(), len(nodes)), len(nodes)):
        matrix[at[one], column] -= 1  # what leaves a node
        matrix[at[other], column] += 1
        matrix[row, [at[one], at[other], column]] += (1, -1, -ohm)
    for node, amp in drawn.items():
        right[at[node]] += amp
    for node, volt in sources.items():
        matrix[at[node], :] = 0
        matrix[at[node], at[node]], right[at[node]] = 1, volt
    found = solve(matrix, right)
    return dict(zip(nodes, found, strict=False)), dict(zip(branches, found[len(nodes) :], strict=True))
