"""Computes lopsided mirrors in full three dimensions with a general-purpose finite-element library.

Not run by the tests: its tables, `data/lopsided_*.csv`, are committed. To remake them,

    python -m venv .venv && .venv/bin/pip install scikit-fem==12.0.2 numpy==2.4.6 scipy==1.17.1
    .venv/bin/python tests/references/lopsided_finite_element.py tests/references/data

Conduction and linear elasticity on triquadratic hexahedra with 27 nodes, in
Cartesian coordinates, without any expansion around the axis: only a plane of
symmetry (half a mirror) or two (a quarter) are used. The mirror is cut into a
square core and rings, so that no element has a corner on the axis that is not a
right angle; the nodes lie on the cylinder and on the paraboloid. The rest is as in
`figure_finite_element.py`, whose words and tables are used.

Afterwards temperatures and figure are sampled on circles and taken apart into
cos(m theta). Where the symmetry leaves a sideways motion and a tilt, they are removed:
the means of displacement and rotation over the volume are nought. (The rigid motion that
fits the front best, instead, lowers the coma of `one-side` by 0.01 nm.)

Each case runs on three meshes, and on the coarsest with half the steps too. The tables
hold the finest; the error of a row is what the last refinement of the mesh and the
halving of the steps changed.
"""

import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from scipy.sparse import bmat, csr_matrix
from scipy.sparse.linalg import splu
from scipy.spatial import cKDTree
from skfem import (
    Basis, BilinearForm, ElementHex2, ElementQuad2, FacetBasis, LinearForm, MeshHex, MeshHex2, MeshQuad, MeshQuad2,
)
from skfem.helpers import dot, grad

import figure_finite_element as even_mirrors
from figure_finite_element import (
    MU, NANO, SODA, Annulus, Mirror, Outcome, Study, changes, even, lame, mirror, profile_radii, quadratic,
    table_points, temperatures, write_tables,
)
from finite_element import check_order_conditions, table

ANGLES = 24  # steps over the modelled part of a circle
HARMONICS = 5  # 0 to 4
CORE = 0.5  # share of the reference square that is the core
NARROW = 0.85  # half width of the core over its share of the radius


@dataclass
class Lopsided:
    """A mirror whose films vary around it: name of a face -> {harmonic: amplitude}."""

    own: Mirror
    uneven: dict
    quarter: bool

    @property
    def harmonics(self) -> range:
        return range(0, HARMONICS, 2 if self.quarter else 1)


SHAPE = (0.254, 0.032, 5.0)
FILMS = even(front=8.0, back=12.0, rim=6.0)

MIRRORS = [
    Lopsided(mirror("oval", SHAPE, SODA, FILMS, "film of the back times 1 + 0.3 cos 2 theta, step of 10 K, 1 h"),
             {"back": {2: 0.3}}, quarter=True),
    Lopsided(mirror("one-side", SHAPE, SODA, FILMS, "film of the back times 1 + 0.3 cos theta, step of 10 K, 1 h"),
             {"back": {1: 0.3}}, quarter=False),
    Lopsided(mirror("three-lobed", SHAPE, SODA, FILMS,
                    "film of the rim times 1 + 0.2 cos theta + 0.5 cos 3 theta, step of 10 K, 1 h"),
             {"rim": {1: 0.2, 3: 0.5}}, quarter=False),
]


# The mesh.

def plan(cells: tuple, quarter: bool) -> MeshQuad:
    """The reference square, core and rings; `cells` across a quarter's core, over the rings, through the thickness."""
    across, rings, _ = cells
    side = np.linspace(0, 1, across + 1)
    core = MeshQuad.init_tensor(CORE * side, CORE * side)
    depth = np.linspace(0, 1, rings + 1)
    ring = MeshQuad.init_tensor(CORE + (1 - CORE) * (1 - (1 - depth) ** 1.6), side)
    spread = np.array([ring.p[0], ring.p[0] * ring.p[1]])
    mesh = core + MeshQuad(spread, ring.t) + MeshQuad(spread[::-1], ring.t)
    if quarter:
        return mesh
    return mesh + MeshQuad(mesh.p * [[-1], [1]], mesh.t)


def placed(reference: np.ndarray, radius: float) -> np.ndarray:
    """From the reference square to the disc: the core stays square, the outermost ring is the circle."""
    share = np.abs(reference).max(axis=0)
    square = reference / np.where(share, share, 1)
    flat = np.abs(square).min(axis=0)
    across = np.abs(square[0]) >= np.abs(square[1])
    angle = np.where(across, np.pi / 4 * flat, np.pi / 2 - np.pi / 4 * flat)
    circle = np.array([np.sign(square[0]) * np.cos(angle), np.sin(angle)])
    circle[0] = np.where(square[0] == 0, 0, circle[0])
    rounded = np.clip((share - CORE) / (1 - CORE), 0, 1)
    return radius * share * ((1 - rounded) * NARROW * square + rounded * circle)


def raised(flat: MeshQuad, levels: np.ndarray) -> MeshHex:
    """Hexahedra over every quadrilateral."""
    corners = {(0, 0): 0, (1, 0): 1, (1, 1): 2, (0, 1): 3}
    local = [(0, 0, 0), (0, 0, 1), (0, 1, 0), (1, 0, 0), (0, 1, 1), (1, 0, 1), (1, 1, 0), (1, 1, 1)]
    count = flat.p.shape[1]
    points = np.hstack([np.vstack([flat.p, np.full(count, level)]) for level in levels])
    cells = [
        np.vstack([flat.t[corners[x, y]] + (layer + z) * count for x, y, z in local])
        for layer in range(len(levels) - 1)
    ]
    return MeshHex(points, np.hstack(cells))


class Body:
    """Mesh, matrices and probes; offers `temperatures` what a `Disc` does."""

    def __init__(self, mirror_: Lopsided, cells: tuple):
        self.lopsided, self.case = mirror_, mirror_.own.case
        self.radius = self.case.diameter / 2
        flat = plan(cells, mirror_.quarter)
        solid = raised(flat, (1 - np.cos(np.pi * np.linspace(0, 1, cells[2] + 1))) / 2)
        cube = MeshHex2.from_mesh(solid)
        self.basis = Basis(MeshHex2(self.shaped(cube.doflocs), cube.t), ElementHex2(), intorder=5)
        square = MeshQuad2.from_mesh(flat)
        self.plan = Basis(MeshQuad2(placed(square.doflocs, self.radius), square.t), ElementQuad2())
        reference = Basis(solid, ElementHex2()).doflocs
        below = Basis(flat, ElementQuad2()).doflocs
        gap, column = cKDTree(below.T).query(reference[:2].T)
        assert gap.max() < 1e-9, "every node stands over one of the plan"
        self.levels, level = np.unique(reference[2].round(9), return_inverse=True)
        self.place = (column, level)
        where = {
            "front": lambda x: np.isclose(x[2], 1), "back": lambda x: np.isclose(x[2], 0),
            "rim": lambda x: np.isclose(np.abs(x[:2]).max(axis=0), 1),
        }
        self.edges = {
            name: FacetBasis(self.basis.mesh, ElementHex2(), facets=solid.facets_satisfying(where[name]), intorder=8)
            for name in self.case.faces
        }

    def shaped(self, reference):
        """Reference square times 0 to 1, onto the mirror."""
        x, y = placed(reference[:2], self.radius)
        return np.array([x, y, reference[2] * self.thickness(np.hypot(x, y))])

    def thickness(self, r):
        return self.case.edge - self.lopsided.own.curvature * (self.radius**2 - r**2) / 2

    def film(self, name, x, y, z):
        theta, face = np.arctan2(y, x), self.case.faces[name]
        even_part = table(face.film, z if name == "rim" else np.hypot(x, y))
        around = self.lopsided.uneven.get(name, {})
        return even_part * (1 + sum(share * np.cos(m * theta) for m, share in around.items()))

    def matrices(self, _time):
        """Heat capacity, conduction with films, and what the films bring in from air at one degree."""
        case = self.case
        capacity, k = case.density * case.heat[2], case.conductivity[0]
        mass = BilinearForm(lambda u, v, w: capacity * u * v).assemble(self.basis)
        stiffness = BilinearForm(lambda u, v, w: k * dot(grad(u), grad(v))).assemble(self.basis)
        load = np.zeros(self.basis.N)
        for name, edge in self.edges.items():
            film = lambda w, n=name: self.film(n, *w.x)
            stiffness = stiffness + BilinearForm(lambda u, v, w: film(w) * u * v).assemble(edge)
            load += LinearForm(lambda v, w: film(w) * v).assemble(edge)
        return mass.tocsc(), stiffness.tocsc(), load

    def table(self, nodal: np.ndarray) -> np.ndarray:
        """`[plan nodes, levels]`"""
        out = np.full((self.plan.N, len(self.levels)), np.nan)
        out[self.place] = nodal
        return out


# Elasticity.

def displacement(body: Body, excess: np.ndarray) -> np.ndarray:
    """`[3, nodes]` in m, free of stress at zero excess [K]."""
    basis, own = body.basis, body.lopsided.own
    lam, mu, count = lame(own.poisson), MU, body.basis.N
    slopes = [[BilinearForm(lambda u, v, w: v.grad[i] * u.grad[j]).assemble(basis) for j in range(3)] for i in range(3)]
    own_part = mu * sum(slopes[k][k] for k in range(3))
    matrix = bmat([
        [lam * slopes[i][j] + mu * slopes[j][i] + (own_part if i == j else 0 * own_part) for j in range(3)]
        for i in range(3)
    ]).tocsc()
    hot, pressure = basis.interpolate(excess), (3 * lam + 2 * mu) * own.expansion
    load = np.concatenate(
        [LinearForm(lambda v, w: pressure * w.t * v.grad[i]).assemble(basis, t=hot) for i in range(3)]
    )
    x, y, z = basis.doflocs
    node = lambda at: int(np.argmin(np.abs(x - at) + np.abs(y) + np.abs(z)))
    mirrored = np.flatnonzero(np.abs(y) < 1e-12) + count
    if body.lopsided.quarter:
        mirrored = np.concatenate([mirrored, np.flatnonzero(np.abs(x) < 1e-12)])
        held = [2 * count + node(0.0)]
    else:
        held = [node(0.0), 2 * count + node(0.0), 2 * count + node(body.radius / 2)]
    free = np.setdiff1d(np.arange(3 * count), [*mirrored, *held])
    u = np.zeros(3 * count)
    u[free] = splu(matrix[free][:, free], permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                   options={"SymmetricMode": True}).solve(load[free])
    force = np.abs((matrix @ u - load)[held]).max()
    assert force < 1e-7 * np.abs(load).max(), f"a held point takes a force: {force}"
    return u.reshape(3, count)


# Sampling.

def probes(basis: Basis, points: np.ndarray) -> csr_matrix:
    """Weights `[points, nodes]` of the elements' own interpolation; `points` is `[2, points]`."""
    mapping, count = basis.mapping, points.shape[1]
    middles = basis.doflocs[:, basis.element_dofs[-1]]
    _, near = cKDTree(middles.T).query(points.T, k=8)
    best, outside, element = np.zeros((2, count)), np.full(count, np.inf), np.zeros(count, dtype=int)
    for candidate in near.T:
        local = np.full((2, count, 1), 0.5)
        for _ in range(12):
            gap = points[:, :, None] - mapping.F(local, candidate)
            local = np.clip(local + np.einsum("ijkl,jkl->ikl", mapping.invDF(local, candidate), gap), -1, 2)
        beyond = np.abs(local[:, :, 0] - 0.5).max(axis=0) - 0.5
        closer = beyond < outside
        best[:, closer], outside[closer], element[closer] = local[:, closer, 0], beyond[closer], candidate[closer]
    # Points on the rim lie a little outside the quadratic edges.
    assert outside.max() < 1e-3, outside.max()
    shapes = np.array([basis.elem.lbasis(best, i)[0] for i in range(9)])
    rows = np.broadcast_to(np.arange(count), shapes.shape)
    columns = basis.element_dofs[:, element]
    return csr_matrix((shapes.ravel(), (rows.ravel(), columns.ravel())), shape=(count, basis.N))


class Circles:
    """Values on circles of the plan, taken apart into harmonics."""

    def __init__(self, body: Body, radii: np.ndarray):
        self.radii, self.lopsided = radii, body.lopsided
        span = np.pi / 2 if body.lopsided.quarter else np.pi
        self.theta = np.linspace(0, span, ANGLES + 1)
        r, theta = (grid.ravel() for grid in np.meshgrid(radii, self.theta, indexing="ij"))
        self.x, self.y = r * np.cos(theta), r * np.sin(theta)
        self.matrix = probes(body.plan, np.array([self.x, self.y]))
        self.share = np.full(ANGLES + 1, 1 / ANGLES)
        self.share[[0, -1]] /= 2

    def values(self, nodal: np.ndarray) -> np.ndarray:
        """`[radii, angles, ...]` of nodal values of the plan."""
        return (self.matrix @ nodal).reshape(len(self.radii), ANGLES + 1, *nodal.shape[1:])

    def harmonics(self, values: np.ndarray) -> dict:
        """harmonic -> `[radii, ...]`"""
        return {
            m: (2 if m else 1) * np.einsum("ra...,a->r...", values, self.share * np.cos(m * self.theta))
            for m in self.lopsided.harmonics
        }


def without_rigid_motion(body: Body, moved: np.ndarray) -> np.ndarray:
    """Displacements `[3, nodes]` less what the glass does as a whole."""
    if body.lopsided.quarter:
        return moved  # the symmetry allows a motion along the axis only
    x, y, z = body.basis.doflocs
    one, none = np.ones_like(x), np.zeros_like(x)
    # Along x, along z, about y; elements hold them exactly.
    motions = np.array([[one, none, none], [none, none, one], [z, none, -x]])
    volume = BilinearForm(lambda u, v, w: u * v).assemble(body.basis)
    product = lambda a, b: sum(component @ (volume @ other) for component, other in zip(a, b))
    square = np.array([[product(a, b) for b in motions] for a in motions])
    share = np.linalg.solve(square, [product(motion, moved) for motion in motions])
    return moved - np.einsum("m,mcn->cn", share, motions)


def figure_harmonics(body: Body, front: np.ndarray, radii: np.ndarray) -> dict:
    """harmonic -> `[radii]` in m"""
    circles = Circles(body, radii)
    u = circles.values(front)
    outward = u[..., 0] * np.cos(circles.theta) + u[..., 1] * np.sin(circles.theta)
    return circles.harmonics(u[..., 2] - body.lopsided.own.curvature * radii[:, None] * outward)


def lopsided_numbers(annulus: Annulus, figure: dict) -> dict:
    """Magnitudes of Noll's terms and RMS of the harmonics [nm]."""
    rho, disc = annulus.rho, annulus.weight / annulus.outer**2
    numbers = {}
    noll = {1: ("coma_nm", 8**0.5 * (3 * rho**3 - 2 * rho)), 2: ("astigmatism_nm", 6**0.5 * rho**2),
            3: ("trefoil_nm", 8**0.5 * rho**3)}
    for harmonic, values in figure.items():
        if not harmonic:
            continue
        if harmonic in noll:
            name, term = noll[harmonic]
            numbers[name] = NANO * abs(float(disc @ (values * term)))
        tilt = annulus.fit([rho], values)[0] * rho if harmonic == 1 else 0
        numbers[f"harmonic_{harmonic}_rms_nm"] = NANO * (annulus.mean_square(values - tilt) / 2) ** 0.5
        if harmonic == 1:
            numbers["tilt_left_nm"] = NANO * float(np.abs(tilt).max())
    return numbers


def run(lopsided: Lopsided, cells: tuple, longest: float) -> Outcome:
    """One mirror on one mesh."""
    own, body = lopsided.own, Body(lopsided, cells)
    nodal = temperatures(body, own.time, longest)
    moved = without_rigid_motion(body, displacement(body, nodal - own.case.start))
    panels = 1 - (1 - np.linspace(0, 1, 61)) ** 1.6
    annulus = Annulus(own, body.radius * panels)
    front = np.column_stack([body.table(component)[:, -1] for component in moved])
    figure = figure_harmonics(body, front, annulus.r)
    everywhere = np.linspace(0, body.radius, 401)
    numbers = annulus.even_numbers(figure[0], (everywhere, figure_harmonics(body, front, everywhere)[0]))
    numbers |= lopsided_numbers(annulus, figure)
    radii, levels = table_points(own)
    sampled = Circles(body, radii).values(body.table(nodal) @ quadratic(body.levels, levels).T)
    temperature = Circles(body, radii).harmonics(sampled)
    middle, top = len(levels) // 2, -1
    for name, level in (("edge_minus_centre_k", middle), ("front_edge_minus_centre_k", top)):
        numbers[name] = temperature[0][-1, level] - temperature[0][0, level]
    return Outcome(body.basis.N, temperature, figure_harmonics(body, front, profile_radii(own)), numbers)


# The study.

MESHES = {True: [(4, 5, 4), (6, 7, 6), (9, 11, 8)], False: [(3, 4, 4), (5, 6, 4), (7, 9, 6)]}


def study(lopsided: Lopsided) -> Study:
    """Three meshes and two steps."""
    coarse, middle, fine = (run(lopsided, cells, 120) for cells in MESHES[lopsided.quarter])
    half = run(lopsided, MESHES[lopsided.quarter][0], 60)
    mesh, before, steps = changes(fine, middle), changes(middle, coarse), changes(half, coarse)
    add = lambda a, b: {key: a[key] + b[key] for key in a}
    error = Outcome(0, add(mesh.temperature, steps.temperature), add(mesh.figure, steps.figure),
                    add(mesh.numbers, steps.numbers))
    own, words = lopsided.own, []
    for name in ("figure_rms_nm", "coma_nm", "astigmatism_nm", "trefoil_nm"):
        if name in fine.numbers:
            words.append(f"{name} {fine.numbers[name]:.4f}, refined twice by {before.numbers[name]:.1e} "
                         f"and {mesh.numbers[name]:.1e}, half the steps {steps.numbers[name]:.1e}")
    said = f"{own.case.name}: {own.says}; {fine.unknowns} nodes; " + "; ".join(words)
    print(said, flush=True)
    return Study(own, fine, error, said)


def check_linear() -> str:
    """Temperatures that leave any free body without stress, on half a mirror: exact figures."""
    lopsided = Lopsided(mirror("exact", SHAPE, SODA, FILMS, ""), {}, quarter=False)
    body, own = Body(lopsided, MESHES[False][0]), lopsided.own
    annulus, gaps = Annulus(own, np.linspace(0, body.radius, 41)), []
    x, y, z = body.basis.doflocs
    r, c = np.linspace(0, body.radius, 41), own.curvature
    height = body.thickness(r)
    # Uniform; and from one side to the other, u = (x^2 - y^2 - z^2)/2, x y, x z: a multiple of cos theta,
    # which a rigid motion may add to.
    for excess, order in ((np.ones_like(x), 0), (x / body.radius, 1)):
        moved = displacement(body, excess)
        front = np.column_stack([body.table(component)[:, -1] for component in moved])
        figure = figure_harmonics(body, front, r)[order]
        if order == 0:
            exact, rigid = own.expansion * (height - c * r * r), [np.ones_like(r)]
        else:
            exact = own.expansion / body.radius * (r * height - c * r * (r**2 - height**2) / 2)
            rigid = [r, r * (1 + c * height)]
        rest = figure - exact
        rest = rest - np.column_stack(rigid) @ np.linalg.lstsq(np.column_stack(rigid), rest, rcond=None)[0]
        gaps.append(NANO * np.abs(rest).max())
    # Between their nodes the elements leave the paraboloid by some tenths of a micrometre on this mesh.
    assert gaps[0] < 0.01 and gaps[1] < 0.05, gaps
    return (
        f"uniform and sideways linear temperatures of 1 K, whose figures are known, came out within {gaps[0]:.0e} "
        f"and {gaps[1]:.0e} nm on the coarsest mesh"
    )


def check_even() -> str:
    """With even films the hexahedra give what the body of revolution gives."""
    own = mirror("even", SHAPE, SODA, FILMS, "")
    solid = run(Lopsided(own, {}, quarter=True), MESHES[True][1], 120)
    round_body, _ = even_mirrors.run(own, 4, 60)
    kelvin = np.abs(solid.temperature[0] - round_body.temperature[0]).max()
    names = ("defocus_nm", "figure_rms_nm", "spherical_nm")
    gap = max(abs(solid.numbers[name] - round_body.numbers[name]) for name in names)
    assert kelvin < 1e-3 and gap < 0.05, (kelvin, gap)
    return (
        f"with even films the hexahedra differ from the body of revolution by at most {1e3 * kelvin:.3f} mK and "
        f"{gap:.1e} nm of defocus, RMS and spherical term"
    )


def uneven_words(lopsided: Lopsided) -> str:
    """`face harmonic:amplitude harmonic:amplitude; ...`"""
    around = lambda terms: " ".join(f"{m}:{share:g}" for m, share in terms.items())
    return "; ".join(f"{face} {around(terms)}" for face, terms in lopsided.uneven.items())


def main(folder: Path) -> None:
    """Writes the tables."""
    check_order_conditions()
    checked = [check_linear(), check_even()]
    print(*checked, sep="\n", flush=True)
    uneven = {lopsided.own.case.name: uneven_words(lopsided) for lopsided in MIRRORS}
    write_tables(folder, "lopsided", [study(lopsided) for lopsided in MIRRORS], uneven, checked)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
