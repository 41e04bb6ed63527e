"""Loop currents: a network's branches as a tree and links, and its linear equations.

Every branch obeys ``v = e + r i``, voltage and current from its start to its end. A spanning tree
of the branches that conduct leaves the links over, each of which closes one loop through the tree.
The unknowns are the links' currents x::

    C diag(r) C' x = -C (e + r j),    i = j + C' x

with C the loops and j the currents that are asked for, each closed through the tree as well. The
matrix is symmetric and positive definite as long as no loop is without resistance. Currents that
are sums of loops meet Kirchhoff's current law whatever the rounding; a perfect branch is a zero
like any number; and a harness has fewer loops than nodes: a series circuit has one.
"""

from collections.abc import Sequence
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lastvolt_service.physics.network.elements import FloatArray, IntArray

# What loops share may be this many times what one has to itself; each time ten costs a digit.
_STEEP = 100.0


Turn = tuple[int, float]  # a branch of a loop, 1.0 where it runs along, -1.0 where against it
Asked = Sequence[tuple[int, Any]]  # elements by place, and the currents asked of them


class Loops:
    """A spanning tree of the branches that conduct, and the loops that the other ones close.

    Parameters
    ----------
    nodes : int
        Number of nodes.
    reference : int
        The node at 0 V.
    start, end : sequence of int
        Nodes of all elements.
    conducting : sequence of int
        Branches that conduct.
    weight : sequence of float
        Resistance of every branch: small ones make the tree, so that no loop is the small
        difference of large ones. [ohm]

    Attributes
    ----------
    part : list of int
        For each node the node at 0 V in its part: the reference, or the lowest of its part.
    loops : list of list of (branch, sign)
        Each link with the way back through the tree.
    """

    def __init__(
        self,
        *,
        nodes: int,
        reference: int,
        start: Sequence[int],
        end: Sequence[int],
        conducting: Sequence[int],
        weight: Sequence[float],
    ) -> None:
        self.nodes, self._start, self._end = nodes, start, end
        self._size = len(weight)
        links = self._grow(conducting, weight)
        self._plant(reference)
        self.loops = [[(link, 1.0), *self.way(link)] for link in links]
        self._ways: dict[int, list[Turn]] = {}

    def _grow(self, conducting: Sequence[int], weight: Sequence[float]) -> list[int]:
        """Join the tree, the smallest resistances first (Kruskal); give the links."""
        group = list(range(self.nodes))

        def root(node: int) -> int:
            while group[node] != node:
                group[node] = node = group[group[node]]
            return node

        self._beside: list[list[tuple[int, int, float]]] = [[] for _ in range(self.nodes)]
        links = []
        for branch in sorted(conducting, key=weight.__getitem__):
            first, last = self._start[branch], self._end[branch]
            a, b = root(first), root(last)
            if a == b:
                links.append(branch)
                continue
            group[a] = b
            self._beside[first].append((last, branch, 1.0))
            self._beside[last].append((first, branch, -1.0))
        return links

    def _plant(self, reference: int) -> None:
        """Order the tree from the nodes at 0 V outwards."""
        self.part = [-1] * self.nodes
        self._above: list[tuple[int, int, float]] = [(-1, -1, 0.0)] * self.nodes
        self._depth = [0] * self.nodes
        self._outwards: list[tuple[int, int, int, float]] = []
        for top in (reference, *range(self.nodes)):
            if self.part[top] >= 0:
                continue
            self.part[top] = top
            todo = [top]
            for node in todo:
                for other, branch, sign in self._beside[node]:
                    if self.part[other] < 0:
                        self.part[other] = top
                        self._above[other] = (node, branch, sign)
                        self._depth[other] = self._depth[node] + 1
                        self._outwards.append((other, node, branch, sign))
                        todo.append(other)

    def way(self, element: int) -> list[Turn]:
        """Find the way of a current through the tree, from an element's end back to its start."""
        return self.between(self._end[element], self._start[element])

    def between(self, first: int, last: int) -> list[Turn]:
        """Find the way of a current through the tree, from one node to another in its part."""
        up: list[Turn] = []
        down: list[Turn] = []
        a, b = first, last
        depth, above = self._depth, self._above
        while a != b:
            if depth[a] >= depth[b]:
                a, branch, sign = above[a]
                up.append((branch, -sign))
            else:
                b, branch, sign = above[b]
                down.append((branch, sign))
        return up + down

    def known_way(self, element: int) -> list[Turn]:
        """Give the way of `way`, kept for the next time."""
        found = self._ways.get(element)
        if found is None:
            found = self._ways[element] = self.way(element)
        return found

    @cached_property
    def _products(self) -> list[tuple[int, int, list[Turn]]]:
        """Entries of the matrix: row, column, and the branches that both loops share."""
        found = []
        for row, loop in enumerate(self.loops):
            signs = dict(loop)
            for column, other in enumerate(self.loops[: row + 1]):
                shared = [(b, s * signs[b]) for b, s in other if b in signs]
                if shared:
                    found.append((row, column, shared))
        return found

    def answer(
        self, ohm: Sequence[float], cases: Sequence[tuple[Sequence[float] | None, Asked]]
    ) -> list[tuple[list[float], list[float]]]:
        """Solve the linear network in plain numbers.

        Parameters
        ----------
        ohm : list of float
            Resistance of every branch. [ohm]
        cases : sequence of (emf_v, asked)
            Voltage of every branch, None for none, and the currents asked of elements. [V], [A]

        Returns
        -------
        list of (current_a, voltage_v)
            Of every branch and every node, for each case; not a number where the matrix is
            singular. [A], [V]
        """
        loops = self.loops
        matrix = [[0.0] * len(loops) for _ in loops]
        for row, column, shared in self._products:
            value = 0.0
            for branch, sign in shared:
                value += sign * ohm[branch]
            matrix[row][column] = matrix[column][row] = value
        flows, rights = [], []
        for emf_v, asked in cases:
            flow = [0.0] * self._size
            for element, amps in asked:
                for branch, sign in self.known_way(element):
                    flow[branch] += sign * amps
            right = []
            for loop in loops:
                value = 0.0
                for branch, sign in loop:
                    value -= sign * ohm[branch] * flow[branch]
                    if emf_v is not None:
                        value -= sign * emf_v[branch]
                right.append(value)
            flows.append(flow)
            rights.append(right)
        _eliminate(matrix, rights)
        found = []
        for (emf_v, _), flow, solved in zip(cases, flows, rights, strict=True):
            for loop, amps in zip(loops, solved, strict=True):
                for branch, sign in loop:
                    flow[branch] += sign * amps
            volts = [0.0] * self.nodes
            for node, before, branch, sign in self._outwards:
                drop = ohm[branch] * flow[branch]
                if emf_v is not None:
                    drop += emf_v[branch]
                volts[node] = volts[before] - sign * drop
            found.append((flow, volts))
        return found

    @cached_property
    def matrix(self) -> FloatArray:
        """The loops: shape (loops, branches)."""
        found = np.zeros((len(self.loops), self._size))
        for row, loop in enumerate(self.loops):
            for branch, sign in loop:
                found[row, branch] += sign
        return found

    @cached_property
    def _columns(self) -> tuple[IntArray, IntArray, IntArray, IntArray, FloatArray]:
        """Branches of one loop, and those that loops share; of these, those in series are one."""
        through: dict[int, list[tuple[int, float]]] = {}
        for row, loop in enumerate(self.loops):
            for branch, sign in loop:
                through.setdefault(branch, []).append((row, sign))
        own: list[list[int]] = [[] for _ in self.loops]
        shared: dict[tuple[tuple[int, float], ...], list[int]] = {}
        for branch, rows in through.items():
            if len(rows) == 1:
                own[rows[0][0]].append(branch)
            else:
                first = rows[0][1]
                shared.setdefault(tuple((row, first * s) for row, s in rows), []).append(branch)
        signs = np.zeros((len(self.loops), len(shared)))
        for place, rows_ in enumerate(shared):
            for row, sign in rows_:
                signs[row, place] = sign
        return (*_chained(own), *_chained(list(shared.values())), signs)

    @cached_property
    def _climb(self) -> tuple[IntArray, FloatArray, list[IntArray]]:
        """For each node the branch above it, its sign, and its forebears 1, 2, 4, ... above."""
        branch = np.array([max(b, 0) for _, b, _ in self._above])
        sign = np.array([s for _, _, s in self._above])
        above = np.array([node if a < 0 else a for node, (a, _, _) in enumerate(self._above)])
        rounds = []
        for _ in range(max(self._depth, default=0).bit_length()):
            rounds.append(above)
            above = above[above]
        return branch, sign, rounds

    def links_a(self, ohm: FloatArray, right_v: FloatArray) -> FloatArray:
        """Solve for the links' currents, shape (scenarios, loops, cases).

        The matrix is what each loop has to itself on its diagonal, D, and what loops share,
        ``S G S'``. Where few branches are shared, which is what a harness is like, their currents q
        are the unknowns: ``(1 + S' D^-1 S G) q = S' D^-1 v``. A link has at least the resistance
        of each branch of the tree in its loop, so nothing here is large beside 1; where that is
        not so in one of the scenarios, a jumper, the whole matrix is solved.
        """
        own, own_first, shared, shared_first, signs = self._columns
        count = len(self.loops)
        if not count:
            return right_v
        alone = np.add.reduceat(ohm[own], own_first, axis=0).T
        if not len(shared):
            return np.asarray(right_v / alone[:, :, None])
        together = np.add.reduceat(ohm[shared], shared_first, axis=0).T
        if 2 * signs.shape[1] > count or _is_steep(alone, together, signs):
            found = (signs * together[:, None, :]) @ signs.T
            place = np.arange(count)
            found[:, place, place] += alone
            return stacked_solve(matrices=found, rights=right_v)
        weighed = right_v / alone[:, :, None]
        matrix = (signs.T / alone[:, None, :]) @ signs * together[:, None, :]
        place = np.arange(signs.shape[1])
        matrix[:, place, place] += 1.0
        through = stacked_solve(matrices=matrix, rights=signs.T @ weighed)
        drop = signs @ (together[:, :, None] * through)
        return np.asarray(weighed - drop / alone[:, :, None])

    def answers(
        self, ohm: FloatArray, cases: Sequence[tuple[FloatArray | None, Asked]]
    ) -> list[tuple[FloatArray, FloatArray]]:
        """Solve the linear network for many scenarios at once; as `answer`.

        Parameters
        ----------
        ohm : ndarray, shape (branches, scenarios)
            [ohm]
        cases : sequence of (emf_v, asked)
            emf_v of that shape, currents of shape (scenarios,).

        Returns
        -------
        list of (current_a, voltage_v)
            Shapes (branches, scenarios) and (nodes, scenarios), for each case.
        """
        flows = []
        rights = np.empty((ohm.shape[1], len(self.loops), len(cases)))
        for place, (emf_v, asked) in enumerate(cases):
            flow = np.zeros(ohm.shape)
            for element, amps in asked:
                turns = self.known_way(element)
                if turns:
                    branches, signs = zip(*turns, strict=True)
                    flow[list(branches)] += np.array(signs)[:, None] * amps
            drop = ohm * flow if emf_v is None else emf_v + ohm * flow
            rights[:, :, place] = -(self.matrix @ drop).T
            flows.append(flow)
        solved = self.links_a(ohm, rights)
        found = []
        branch, sign, rounds = self._climb
        for place, ((emf_v, _), flow) in enumerate(zip(cases, flows, strict=True)):
            flow += self.matrix.T @ solved[:, :, place].T
            drop = ohm * flow if emf_v is None else emf_v + ohm * flow
            volts = -sign[:, None] * drop[branch] if self._size else np.zeros((self.nodes, 1))
            for above in rounds:
                volts = volts + volts[above]
            found.append((flow, volts))
        return found


def _is_steep(alone: FloatArray, together: FloatArray, signs: FloatArray) -> bool:
    """Tell whether a loop has little to itself beside what it shares, in any scenario."""
    most = np.max(np.abs(signs) * together[:, None, :], axis=2)
    return bool(np.any(alone * _STEEP < most) or np.any(alone <= 0.0))


def _chained(groups: Sequence[Sequence[int]]) -> tuple[IntArray, IntArray]:
    """Put groups one after the other; tell where each begins."""
    whole = [item for group in groups for item in group]
    firsts = np.cumsum([0, *(len(group) for group in groups)])[:-1]
    return np.array(whole, dtype=np.int64), firsts.astype(np.int64)


def _eliminate(matrix: list[list[float]], rights: Sequence[list[float]]) -> None:
    """Solve a symmetric positive definite system in place, by Gauss."""
    count = len(matrix)
    for pivot in range(count):
        row = matrix[pivot]
        head = row[pivot]
        if not head > 0.0:
            for right in rights:
                right[:] = [np.nan] * count
            return
        for lower in range(pivot + 1, count):
            factor = matrix[lower][pivot] / head
            if factor:
                other = matrix[lower]
                for column in range(pivot + 1, count):
                    other[column] -= factor * row[column]
                for right in rights:
                    right[lower] -= factor * right[pivot]
    for pivot in range(count - 1, -1, -1):
        row = matrix[pivot]
        for right in rights:
            value = right[pivot]
            for column in range(pivot + 1, count):
                value -= row[column] * right[column]
            right[pivot] = value / row[pivot]


def stacked_solve(*, matrices: NDArray[np.float64], rights: NDArray[np.float64]) -> FloatArray:
    """Solve systems side by side; not a number where one is singular.

    Parameters
    ----------
    matrices : ndarray, shape (scenarios, n, n)
        Left sides; here of loops. [ohm]
    rights : ndarray, shape (scenarios, n, cases)
        Right sides. [V]

    Returns
    -------
    ndarray, shape (scenarios, n, cases)
        [A]
    """
    try:
        return np.asarray(np.linalg.solve(matrices, rights))
    except np.linalg.LinAlgError:
        if len(matrices) == 1:
            return np.full_like(rights, np.nan)
        halves = np.array_split(np.arange(len(matrices)), 2)
        return np.concatenate(
            [stacked_solve(matrices=matrices[half], rights=rights[half]) for half in halves]
        )
