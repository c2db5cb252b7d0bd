"""Computes the thermoelastic figure of mirrors of our own with a general-purpose finite-element library.

Not run by the tests: its tables, `data/figure_*.csv`, are committed. To remake them,

    python -m venv .venv && .venv/bin/pip install scikit-fem==12.0.2 numpy==2.4.6 scipy==1.17.1
    .venv/bin/python tests/references/figure_finite_element.py tests/references/data

Conduction on the elements of `finite_element.py`: nine-node isoparametric
quadrilaterals whose edges follow the paraboloid exactly, with a line at every
jump of a film. On the same elements the equations of three-dimensional linear
elasticity of a body of revolution, isotropic, free of forces and of supports,
whose stress-free strain is the expansion times the temperature above the start;
nothing of plate theory is assumed. One point is held along the axis, which takes
no force. The figure is the displacement of the front seen along the normal, to
first order in it: u_z - (dz/dr) u_r. Lopsided mirrors are computed by
`lopsided_finite_element.py` on hexahedra in full three dimensions.

Young's modulus drops out of a free body. The reference is the uniform start, so
that the figure holds the shrinking of the whole mirror.

Each case runs on three meshes, each twice as fine in both directions as the one
before, and on the finest with half the steps. The tables hold the last; the error
of a row is what the last doubling of the mesh and the halving of the steps changed.
"""

import csv
import json
import platform
import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import scipy
import skfem
from scipy.sparse import bmat
from scipy.sparse.linalg import splu
from skfem import BilinearForm, LinearForm

from finite_element import Case, Disc, Face, advance, check_order_conditions

NANO = 1e9
MU = 1.0  # Lame's second constant; the scale of stress drops out


@dataclass
class Mirror:
    """A night, an instant of it, and the elastic constants."""

    case: Case
    expansion: float  # [1/K]
    poisson: float
    says: str

    @property
    def time(self) -> float:
        return self.case.times[0]

    @property
    def curvature(self) -> float:
        """1/R at the vertex [1/m]."""
        case = self.case
        return 1 / (2 * case.focal_ratio * case.diameter) if case.focal_ratio else 0.0

    @property
    def piece_ends(self) -> list:
        """Radii between which the temperature is smooth [m]."""
        inner, outer = self.case.hole / 2, self.case.diameter / 2
        jumps = {p for side in ("front", "back") for p, _ in self.case.faces[side].film}
        return [inner, *sorted(p for p in jumps if inner < p < outer), outer]


SODA = ({"density": 2500.0, "heat": (0.0, 0.0, 720.0), "conductivity": (1.0, 0.0)}, 9.0e-6, 0.22)
BORO = ({"density": 2230.0, "heat": (0.0, 0.0, 740.0), "conductivity": (1.1, 0.0)}, 3.2e-6, 0.20)
SILICA = ({"density": 2201.0, "heat": (0.0, 0.0, 712.0), "conductivity": (1.32, 0.0)}, 0.5e-6, 0.165)


def even(**films) -> dict:
    """Faces whose film is the same everywhere."""
    return {name: Face([(0.0, film)]) for name, film in films.items()}


def mirror(name, shape, glass, faces, says, time=3600, air=((0.0, 10.0),)) -> Mirror:
    """`shape`: diameter, edge thickness, focal ratio (0: flat), and a hole if there is one."""
    thermal, expansion, poisson = glass
    diameter, edge, ratio, *hole = shape
    case = Case(
        name, diameter, edge, ratio, **thermal, start=20.0, air=list(air), faces=faces,
        hole=hole[0] if hole else 0.0, times=(time,),
    )
    return Mirror(case, expansion, poisson, says)


QUOTED = (0.406, 0.041, 4.5)  # diameter, edge thickness, focal ratio
FALLING_FILM = Face([(0.0, 25.0), (0.124, 25.0), (0.124, 4.0), (0.203, 4.0)])

MIRRORS = [
    mirror("holed", (0.300, 0.038, 4.0, 0.080), BORO, even(front=8.0, back=12.0, rim=6.0, hole=5.0),
           "perforated, step of 10 K, 45 min", time=2700),
    mirror("very-thin", (0.500, 0.016, 5.0), SODA, even(front=6.0, back=10.0, rim=4.0),
           "16 mm at the edge and 9.75 mm in the middle, air falls by 1 K/h, 2 h", time=7200,
           air=((0.0, 20.0), (7200.0, 18.0))),
    mirror("steep", (0.450, 0.060, 3.0), SODA, even(front=7.0, back=14.0, rim=9.0), "f/3, step of 10 K, 1 h"),
    mirror("small-thick", (0.150, 0.030, 8.0), BORO, even(front=6.0, back=9.0, rim=7.0),
           "a fifth as thick as wide, step of 10 K, 30 min", time=1800),
    mirror("flat-silica", (0.200, 0.028, 0.0), SILICA, even(front=5.0, back=15.0, rim=20.0),
           "flat, fused silica, step of 10 K, 30 min", time=1800),
    mirror("jump", QUOTED, SODA, {"front": FALLING_FILM, **even(back=12.0, rim=2.0)},
           "the front's film falls from 25 to 4 at r = 124 mm, rim film 2, step of 10 K, 1 h"),
    mirror("jump-bare-rim", QUOTED, SODA, {"front": FALLING_FILM, **even(back=12.0, rim=12.0)},
           "as before, rim film 12"),
    mirror("rim-sealed", QUOTED, SODA, even(front=8.0, back=12.0, rim=0.0), "sealed rim, step of 10 K, 1 h"),
    mirror("rim-slow", QUOTED, SODA, even(front=8.0, back=12.0, rim=2.0), "rim film 2, step of 10 K, 1 h"),
    mirror("rim-fast", QUOTED, SODA, even(front=8.0, back=12.0, rim=25.0), "rim film 25, step of 10 K, 1 h"),
]


# Conduction in time.

def schedule(end: float, longest: float) -> list:
    """Steps from 1/64 of the longest, each size until it reaches four times the next, up to `end`."""
    steps, now = [], 0.0
    for share in (64, 32, 16, 8, 4, 2):
        count = 8 if share == 64 else 4
        steps += [longest / share] * count
        now += count * longest / share
    rest = round((end - now) / longest)
    assert abs(now + rest * longest - end) < 1e-6 and rest >= 0, (now, rest)
    return steps + [longest] * rest


def temperatures(body, end: float, longest: float) -> np.ndarray:
    """Temperatures [degC] at all nodes after a uniform start; films are constant in time."""
    mass, stiffness, load = body.matrices(0.5)
    t, now, factors = np.full(body.basis.N, body.case.start), 0.0, {}
    for step in schedule(end, longest):
        if step not in factors:
            factors = {step: splu((mass + step / 4 * stiffness).tocsc())}
        t = advance(body, t, now, step, (stiffness, load, factors[step], 0.5))
        now += step
    return t


# Elasticity of a body of revolution.

def lame(poisson: float) -> float:
    """Lame's first constant over the second."""
    return 2 * poisson / (1 - 2 * poisson)


def displacement(disc: Disc, own: Mirror, excess: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(u_r, u_z) [m] at the nodes, for temperatures above stress-free [K]."""
    basis, lam, mu = disc.basis, lame(own.poisson), MU
    form = lambda integrand: BilinearForm(integrand).assemble(basis)
    # Strains: u_r,r, u_r/r, u_z,z and the shear u_r,z + u_z,r; test functions v.
    radial = form(lambda u, v, w: (
        (lam + 2 * mu) * (u.grad[0] * v.grad[0] * w.x[0] + u * v / w.x[0])
        + lam * (u.grad[0] * v + u * v.grad[0]) + mu * u.grad[1] * v.grad[1] * w.x[0]
    ))
    axial = form(lambda u, v, w: ((lam + 2 * mu) * u.grad[1] * v.grad[1] + mu * u.grad[0] * v.grad[0]) * w.x[0])
    # Trial u_z against the radial test function.
    mixed = form(lambda u, v, w: (
        lam * u.grad[1] * (v.grad[0] * w.x[0] + v) + mu * u.grad[0] * v.grad[1] * w.x[0]
    ))
    pressure = (3 * lam + 2 * mu) * own.expansion
    hot = basis.interpolate(excess)
    pull_r = LinearForm(lambda v, w: pressure * w.t * (v.grad[0] * w.x[0] + v)).assemble(basis, t=hot)
    pull_z = LinearForm(lambda v, w: pressure * w.t * v.grad[1] * w.x[0]).assemble(basis, t=hot)
    count = basis.N
    matrix = bmat([[radial, mixed], [mixed.T, axial]]).tocsc()
    load = np.concatenate([pull_r, pull_z])
    on_axis = np.flatnonzero(np.abs(basis.doflocs[0]) < 1e-12)
    held = count + int(np.argmin(np.abs(basis.doflocs[0] - own.case.diameter / 4) + np.abs(basis.doflocs[1])))
    free = np.setdiff1d(np.arange(2 * count), [*on_axis, held])
    u = np.zeros(2 * count)
    u[free] = splu(matrix[free][:, free]).solve(load[free])
    force = (matrix @ u - load)[held]
    assert abs(force) < 1e-8 * np.abs(load).max(), f"the held point takes a force: {force}"
    return u[:count], u[count:]


# Reading values off the nodes.

def quadratic(nodes: np.ndarray, at: np.ndarray) -> np.ndarray:
    """Weights `[at, nodes]` of piecewise quadratic interpolation on nodes end, middle, end, ..."""
    first = 2 * np.clip(np.searchsorted(nodes[2::2], at), 0, (len(nodes) - 3) // 2)
    weights = np.zeros((len(at), len(nodes)))
    for own in range(3):
        value = np.ones(len(at))
        for other in set(range(3)) - {own}:
            value *= (at - nodes[first + other]) / (nodes[first + own] - nodes[first + other])
        weights[np.arange(len(at)), first + own] = value
    return weights


class Section:
    """Nodal values of a disc as a table over radius and share of the thickness."""

    def __init__(self, disc: Disc):
        radius, height = disc.basis.doflocs
        share = height / disc.thickness(radius)
        self.radii, at_radius = np.unique(radius.round(12), return_inverse=True)
        self.levels, at_level = np.unique(share.round(9), return_inverse=True)
        assert len(self.radii) * len(self.levels) == disc.basis.N, "nodes form a table"
        self.place = (at_radius, at_level)

    def table(self, nodal: np.ndarray) -> np.ndarray:
        out = np.full((len(self.radii), len(self.levels)), np.nan)
        out[self.place] = nodal
        return out

    def at(self, nodal, radii, levels) -> np.ndarray:
        """`[radii, levels]`"""
        return quadratic(self.radii, radii) @ self.table(nodal) @ quadratic(self.levels, levels).T


def chebyshev(low: float, high: float, count: int) -> np.ndarray:
    """Points between which the polynomial through them is nearly the best."""
    points = (low + high) / 2 - (high - low) / 2 * np.cos(np.pi * np.arange(count) / (count - 1))
    points[0], points[-1] = low, high
    return points


RADIAL, AXIAL = 25, 9  # points of the tables of temperatures, per piece


def table_points(own: Mirror) -> tuple[np.ndarray, np.ndarray]:
    """Radii [m] and shares of the thickness at which temperatures are written down."""
    ends = own.piece_ends
    radii = [chebyshev(low, high, RADIAL) for low, high in zip(ends[:-1], ends[1:])]
    return np.unique(np.concatenate(radii)), chebyshev(0.0, 1.0, AXIAL)


# The numbers of a figure.

class Annulus:
    """Gauss points over the clear front, and what is read off a figure there."""

    def __init__(self, own: Mirror, nodes: np.ndarray):
        self.own = own
        self.inner, self.outer = own.case.hole / 2, own.case.diameter / 2
        points, weights = np.polynomial.legendre.leggauss(6)
        half = np.diff(nodes[::2])[:, None] / 2
        self.r = (nodes[:-2:2, None] + half * (1 + points)).ravel()
        self.weight = (half * weights).ravel() * self.r  # r dr
        self.rho = self.r / self.outer

    def fit(self, columns: list, values: np.ndarray) -> np.ndarray:
        """Area-weighted least squares."""
        root = np.sqrt(self.weight)
        return np.linalg.lstsq(np.column_stack(columns) * root[:, None], values * root, rcond=None)[0]

    def mean_square(self, values: np.ndarray) -> float:
        return float(self.weight @ values**2 / self.weight.sum())

    def even_numbers(self, figure: np.ndarray, fine: tuple) -> dict:
        """Of the angular mean [m]; `fine` is (radii, figure) for the extremes."""
        one = np.ones_like(self.rho)
        piston, defocus = self.fit([one, self.rho**2], figure)
        rest = figure - piston - defocus * self.rho**2
        rest_fine = fine[1] - piston - defocus * (fine[0] / self.outer) ** 2
        # Noll 1, 4, 11, 22; the others of the first eleven are orthogonal to a mean around the axis.
        x = self.rho**2
        noll = [one, 3**0.5 * (2 * x - 1), 5**0.5 * (6 * x**2 - 6 * x + 1),
                7**0.5 * (20 * x**3 - 30 * x**2 + 12 * x - 1)]
        spherical = self.fit(noll, figure)[2]
        numbers = {
            "defocus_nm": NANO * defocus,
            "figure_pv_nm": NANO * float(np.ptp(rest_fine)),
            "figure_rms_nm": NANO * self.mean_square(rest) ** 0.5,
            "spherical_nm": NANO * spherical,
        }
        if self.own.curvature:
            r, a = 1 / self.own.curvature, self.outer
            numbers["focus_shift_um"] = -1e6 * defocus * r**2 / a**2
            numbers["correction_percent"] = 100 * spherical / (-(a**4) / (48 * 5**0.5 * r**3))
        return numbers


@dataclass
class Outcome:
    """What one run of a mirror gives; harmonic by harmonic."""

    unknowns: int
    temperature: dict  # harmonic -> [radii, levels], degC for harmonic 0, K for others
    figure: dict  # harmonic -> [radii], m
    numbers: dict


PROFILE = 41  # radii at which figures are written down


def profile_radii(own: Mirror) -> np.ndarray:
    return np.linspace(own.case.hole / 2, own.case.diameter / 2, PROFILE)


def run(own: Mirror, fineness: int, longest: float) -> tuple[Outcome, float]:
    """One mirror on one mesh; also how well the table's polynomial meets the nodes [K]."""
    disc = Disc(own.case, fineness)
    nodal = temperatures(disc, own.time, longest)
    u_r, u_z = displacement(disc, own, nodal - own.case.start)
    section = Section(disc)
    front = lambda r: (
        quadratic(section.radii, r) @ (section.table(u_z)[:, -1])
        - own.curvature * r * (quadratic(section.radii, r) @ section.table(u_r)[:, -1])
    )
    annulus = Annulus(own, section.radii)
    everywhere = np.linspace(annulus.inner, annulus.outer, 2001)
    numbers = annulus.even_numbers(front(annulus.r), (everywhere, front(everywhere)))
    numbers |= glances(section, nodal)
    radii, levels = table_points(own)
    table = section.at(nodal, radii, levels)
    outcome = Outcome(disc.basis.N, {0: table}, {0: front(profile_radii(own))}, numbers)
    return outcome, table_error(own, section, nodal)


def glances(section: Section, nodal: np.ndarray) -> dict:
    """Differences makers speak of [K]."""
    at = section.at(nodal, section.radii[[0, -1]], np.array([0.5, 1.0]))
    middle, front = at[1] - at[0]
    return {"edge_minus_centre_k": middle, "front_edge_minus_centre_k": front}


def table_error(own: Mirror, section: Section, nodal: np.ndarray) -> float:
    """Largest gap between nodes and the piecewise polynomial through the table [K]."""
    radii, levels = table_points(own)
    table, worst = section.at(nodal, radii, levels), 0.0
    axial = scipy.interpolate.BarycentricInterpolator(levels, table.T)(section.levels).T
    for low, high in zip(own.piece_ends[:-1], own.piece_ends[1:]):
        held = (radii >= low - 1e-9) & (radii <= high + 1e-9)
        meant = (section.radii >= low - 1e-9) & (section.radii <= high + 1e-9)
        guess = scipy.interpolate.BarycentricInterpolator(radii[held], axial[held])(section.radii[meant])
        worst = max(worst, np.abs(guess - section.table(nodal)[meant]).max())
    return worst


# The study and its tables.

def changes(one: Outcome, other: Outcome) -> Outcome:
    """Absolute differences of two runs."""
    gap = lambda a, b: {key: np.abs(a[key] - b[key]) for key in a}
    return Outcome(0, gap(one.temperature, other.temperature), gap(one.figure, other.figure),
                   gap(one.numbers, other.numbers))


@dataclass
class Study:
    """The best run of a mirror, how far it may be off, and what to say about it."""

    own: Mirror
    best: Outcome
    error: Outcome
    said: str


def study(own: Mirror) -> Study:
    """Three meshes and two steps."""
    (coarse, _), (middle, _), (fine, _) = (run(own, fineness, 60) for fineness in (1, 2, 4))
    best, table_gap = run(own, 4, 30)
    mesh, before, steps = changes(fine, middle), changes(middle, coarse), changes(best, fine)
    add = lambda a, b: {key: a[key] + b[key] for key in a}
    error = Outcome(0, add(mesh.temperature, steps.temperature), add(mesh.figure, steps.figure),
                    add(mesh.numbers, steps.numbers))
    rms = "figure_rms_nm"
    said = (
        f"{own.case.name}: {own.says}; {best.unknowns} nodes; RMS {best.numbers[rms]:.4f} nm, two doublings of "
        f"the mesh moved it by {before.numbers[rms]:.1e} and {mesh.numbers[rms]:.1e} nm, half the steps by "
        f"{steps.numbers[rms]:.1e} nm; the polynomial through the temperatures is within {1e3 * table_gap:.3f} mK"
    )
    print(said, flush=True)
    return Study(own, best, error, said)


def check_uniform_and_linear() -> str:
    """A uniform and an axially linear temperature leave any free body without stress: exact figures."""
    own = mirror("exact", (0.40, 0.05, 4.0), SODA, even(front=1.0, back=1.0, rim=1.0), "")
    disc = Disc(own.case, 1)
    section = Section(disc)
    r, height = section.radii, disc.thickness(section.radii)
    slope, gaps = own.curvature * r, []
    for uniform, gradient in ((1.0, 0.0), (0.0, 1 / 0.05)):
        u_r, u_z = displacement(disc, own, uniform + gradient * disc.basis.doflocs[1])
        figure = section.table(u_z)[:, -1] - slope * section.table(u_r)[:, -1]
        exact = own.expansion * (
            uniform * (height - slope * r) + gradient * ((height**2 - r**2) / 2 - slope * height * r)
        )
        gaps.append(NANO * np.ptp(figure - exact))  # the held point sets the piston
    # Curved elements hold a uniform strain exactly, a linear one to the order of the mesh.
    assert gaps[0] < 1e-6 and gaps[1] < 0.01, gaps
    return (
        f"uniform and axially linear temperatures of 1 K, whose figures are known, came out within {gaps[0]:.0e} "
        f"and {gaps[1]:.0e} nm on the coarsest mesh"
    )


def even_films(own: Mirror) -> str:
    """`face radius:film radius:film ...; face ...`"""
    side = lambda points: " ".join(f"{p:g}:{film:g}" for p, film in points)
    return "; ".join(f"{name} {side(face.film)}" for name, face in own.case.faces.items())


def write(path: Path, head: list, columns: list, rows: list) -> None:
    """A table with comment lines above it."""
    with path.open("w", encoding="utf-8", newline="") as file:
        file.writelines(f"# {line}\n" for line in head)
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(columns)
        writer.writerows(rows)


def case_row(own: Mirror, uneven: str) -> list:
    case = own.case
    air = " ".join(f"{time:g}:{celsius:g}" for time, celsius in case.air)
    return [case.name, case.diameter, case.edge, case.focal_ratio or "", case.hole or "", case.density, case.heat[2],
            case.conductivity[0], own.expansion, own.poisson, case.start, air, even_films(own), uneven, own.time]


def temperature_rows(result: Study):
    radii, levels = table_points(result.own)
    disc_height = Disc(result.own.case, 1).thickness
    for harmonic, table in result.best.temperature.items():
        error = result.error.temperature[harmonic]
        for i, r in enumerate(radii):
            for j, level in enumerate(levels):
                yield [result.own.case.name, harmonic, f"{r:.10g}", f"{level * disc_height(r):.10g}",
                       f"{table[i, j]:.6f}", f"{max(error[i, j], 1e-6):.1e}"]


def figure_rows(result: Study):
    for harmonic, figure in result.best.figure.items():
        error = result.error.figure[harmonic]
        for r, value, gap in zip(profile_radii(result.own), figure, error):
            yield [result.own.case.name, harmonic, f"{r:.10g}", f"{value:.9e}", f"{max(gap, 1e-15):.1e}"]


def number_rows(result: Study):
    for name, value in result.best.numbers.items():
        yield [result.own.case.name, name, f"{value:.8g}", f"{max(result.error.numbers[name], 1e-6):.1e}"]


CASE_COLUMNS = ["case", "diameter_m", "edge_thickness_m", "focal_ratio", "hole_m", "density", "specific_heat",
                "conductivity", "expansion", "poisson_ratio", "start_c", "air", "films", "uneven", "time_s"]


def write_tables(folder: Path, kind: str, studies: list, uneven: dict, checked: list) -> None:
    """All tables of a script."""
    made = f"scikit-fem {skfem.__version__}, numpy {np.__version__}, scipy {scipy.__version__}"
    head = [f"source: {kind}_finite_element.py beside this folder, written for this purpose", f"made with: {made}"]
    notes = [*checked, *(s.said for s in studies)]
    rows = lambda of: [row for s in studies for row in of(s)]
    write(folder / f"{kind}_cases.csv",
          [*head, "units: SI; air as seconds:degC, films as metres:W m-2 K-1, linear between, a repeated position is a jump",
           "glass with constant properties, free of stress at the start; the figure does not depend on Young's modulus",
           *notes],
          CASE_COLUMNS, [case_row(s.own, uneven.get(s.own.case.name, "")) for s in studies])
    write(folder / f"{kind}_temperatures.csv",
          [*head, "units: m, m above the back; degrees Celsius for harmonic 0, else K of cos(harmonic theta)",
           "precision: error = change by the last refinement of mesh and steps",
           f"radii: {RADIAL} Chebyshev points between jumps of films; heights: {AXIAL} through the thickness"],
          ["case", "harmonic", "radius_m", "height_m", "temperature", "error"], rows(temperature_rows))
    write(folder / f"{kind}_profiles.csv",
          [*head, "figure u_z - (dz/dr) u_r of the front since the start, its piston arbitrary, of cos(harmonic theta)",
           "units: m, m; precision: error_m = change by the last refinement of mesh and steps"],
          ["case", "harmonic", "radius_m", "figure_m", "error_m"], rows(figure_rows))
    write(folder / f"{kind}_numbers.csv",
          [*head, "names and units as in history.csv; error = change by the last refinement of mesh and steps",
           "edge over centre in the middle of the thickness, and on the front"],
          ["case", "name", "value", "error"], rows(number_rows))
    versions = {"python": platform.python_version(), "scikit-fem": skfem.__version__, "numpy": np.__version__,
                "scipy": scipy.__version__}
    (folder / f"{kind}_versions.json").write_text(json.dumps(versions, indent=2) + "\n", encoding="utf-8")


def main(folder: Path) -> None:
    """Writes the tables."""
    check_order_conditions()
    exact = check_uniform_and_linear()
    print(exact, flush=True)
    write_tables(folder, "figure", [study(own) for own in MIRRORS], {}, [exact])


if __name__ == "__main__":
    main(Path(sys.argv[1]))
