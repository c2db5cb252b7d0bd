"""Computes mirrors of our own with a general-purpose finite-element library.

Not run by the tests: its table, `data/finite_element.csv`, is committed. To remake it,

    python -m venv .venv && .venv/bin/pip install scikit-fem==12.0.2 numpy scipy
    .venv/bin/python tests/references/finite_element.py tests/references/data/finite_element.csv

Axisymmetric heat conduction on nine-node isoparametric quadrilaterals, whose
quadratic edges follow the paraboloid exactly. The mesh is graded towards every
face and towards every radius at which a film jumps, and has a line there; the
points written down stay 6 mm clear of the jumps, at which the gradient is
unbounded. In time, the L-stable singly diagonally implicit Runge-Kutta method of order four
with five stages (E. Hairer and G. Wanner, *Solving Ordinary Differential
Equations II*, 2nd ed., table IV.6.5; coefficients recalled from memory, the
order is checked below), restarted with small steps at every jump in time.

Each case runs three times: on a mesh, on twice the mesh, and on twice the mesh
with half the steps. The table holds the last; the stated error of each row is
the sum of what the two refinements changed there, no smaller than 0.02 mK.
"""

import sys
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import scipy
import skfem
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementQuad2, FacetBasis, LinearForm, MeshQuad, MeshQuad2
from skfem.helpers import dot, grad

STEFAN_BOLTZMANN = 5.670374419e-8  # [W m-2 K-4], exact in the SI of 2019
ZERO = 273.15
SMALLEST_ERROR = 2e-5  # [K]


@dataclass
class Face:
    """A film: (position [m], coefficient [W m-2 K-1]) linear between, a repeated position is a jump."""

    film: list
    factor: list = field(default_factory=lambda: [(0.0, 1.0)])  # (time [s], -)
    insulation: tuple = ()  # thickness [m], conductivity [W m-1 K-1]
    emissivity: float = 0.0  # towards walls at air temperature


@dataclass
class Case:
    """One mirror and one night. Lengths in m, temperatures in degrees Celsius."""

    name: str
    diameter: float
    edge: float
    focal_ratio: float
    density: float
    heat: tuple  # a, b, c of (a t + c)/(b t + 1), the mean specific heat from 0 to t [J kg-1 K-1]
    conductivity: tuple  # at 0 degC [W m-1 K-1], slope [W m-1 K-2]
    start: float
    air: list  # (time [s], degC)
    faces: dict
    hole: float = 0.0
    radii: tuple = ()  # further radii to write down [m]
    times: tuple = (300, 900, 1800, 3600, 7200, 14400)

    @property
    def linear(self) -> bool:
        """Whether nothing depends on the temperature."""
        radiates = any(f.emissivity for f in self.faces.values())
        return not (radiates or self.conductivity[1] or self.heat[0] or self.heat[1])


SODA = {"density": 2500.0, "heat": (0.0, 0.0, 720.0), "conductivity": (1.0, 0.0)}
BORO = {"density": 2230.0, "heat": (0.0, 0.0, 740.0), "conductivity": (1.1, 0.0)}

CASES = [
    Case(
        "jumps", 0.406, 0.041, 4.5, **SODA, start=20.0, air=[(0, 10.0)],
        faces={
            "front": Face([(0, 25.0), (0.124, 25.0), (0.124, 4.0), (0.203, 4.0)]),
            "back": Face([(0, 20.0), (0.0917, 20.0), (0.0917, 6.0), (0.203, 9.0)]),
            "rim": Face([(0, 6.0)]),
        },
        radii=(0.06, 0.1, 0.132, 0.17),
    ),
    Case(
        "holed", 0.400, 0.050, 4.0, **BORO, start=21.0, air=[(0, 17.0), (14400, 11.0)],
        faces={
            "front": Face([(0.0, 7.0), (0.2, 11.0)]),
            "back": Face([(0, 18.0), (0.11, 18.0), (0.11, 8.0)]),
            "rim": Face([(0, 10.0)]),
            "hole": Face([(0, 5.0)]),
        },
        hole=0.090, radii=(0.1, 0.13),
    ),
    Case(
        "thick", 0.610, 0.085, 5.0, **SODA, start=18.0, air=[(0, 8.0)],
        faces={
            "front": Face([(0, 5.0)]),
            "back": Face([(0, 16.0)]),
            "rim": Face([(0, 14.0), (0.033, 14.0), (0.033, 3.0)]),
        },
        radii=(0.15,), times=(300, 900, 1800, 3600, 7200, 14400, 28800),
    ),
    Case(
        "insulated", 0.406, 0.041, 4.5, **SODA, start=20.0,
        air=[(0, 18.0), (7200, 15.0), (14400, 9.0)],
        faces={
            "front": Face([(0, 8.0)]),
            "back": Face([(0, 24.0)], factor=[(0, 1.0), (3600, 1.0), (3600, 0.3333), (14400, 0.3333)]),
            "rim": Face([(0, 12.0)], insulation=(0.006, 0.035)),
        },
        radii=(0.1,), times=(300, 1800, 3600, 3900, 5400, 7200, 10800, 14400),
    ),
    Case(
        "one-sided", 0.300, 0.040, 6.0, **BORO, start=20.0, air=[(0, 10.0)],
        faces={
            "front": Face([(0, 0.5)]),
            "back": Face([(0, 60.0), (0.045, 60.0), (0.150, 20.0)]),
            "rim": Face([(0, 2.0)]),
        },
        radii=(0.06, 0.1),
    ),
    Case(
        "radiating", 0.406, 0.041, 4.5, density=2500.0, heat=(2.157, 0.00146, 737.4), conductivity=(1.0, 0.0013),
        start=25.0, air=[(0, 18.0), (14400, 4.0)],
        faces={
            "front": Face([(0, 6.0)], emissivity=0.04),
            "back": Face([(0, 15.0), (0.08, 15.0), (0.08, 5.0)], emissivity=0.84),
            "rim": Face([(0, 4.0)], emissivity=0.84),
        },
        radii=(0.06, 0.12),
    ),
]


def table(points, at):
    """Linear between points, held beyond, a repeated position is a jump (never sampled exactly)."""
    position, value = (np.array(column, dtype=float) for column in zip(*points))
    return np.interp(at, position, value)


def graded(knots, elements):
    """Element ends over the stretches between knots, dense at both ends of each."""
    length = knots[-1] - knots[0]
    out = [knots[0]]
    for low, high in zip(knots[:-1], knots[1:]):
        count = max(4, round(elements * (high - low) / length))
        out.extend(low + (high - low) * (1 - np.cos(np.pi * np.arange(1, count + 1) / count)) / 2)
    return np.array(out)


class Disc:
    """Mesh, matrices and probe points of a case."""

    def __init__(self, case: Case, fineness: int):
        self.case = case
        inner, outer = case.hole / 2, case.diameter / 2
        curvature = 1 / (4 * case.focal_ratio * case.diameter) if case.focal_ratio else 0.0  # z = curvature r^2
        self.thickness = lambda r: case.edge - curvature * (outer**2 - r**2)
        radii = sorted({inner, outer} | set(case.radii))
        films = {p for side in ("front", "back") for p, _ in case.faces[side].film}
        lines = sorted(set(radii) | {p for p in films if inner < p < outer})
        levels = sorted({0.0, 0.5, 1.0} | {p / case.edge for p, _ in case.faces["rim"].film if 0 < p < case.edge})
        flat = MeshQuad.init_tensor(graded(lines, 20 * fineness), graded(levels, 10 * fineness))
        side = {
            "front": lambda x: np.isclose(x[1], 1), "back": lambda x: np.isclose(x[1], 0),
            "rim": lambda x: np.isclose(x[0], outer), "hole": lambda x: np.isclose(x[0], inner),
        }
        facets = {name: flat.facets_satisfying(side[name]) for name in case.faces}
        square = MeshQuad2.from_mesh(flat)
        points = square.doflocs.copy()
        points[1] *= self.thickness(points[0])
        mesh = MeshQuad2(points, square.t)
        self.basis = Basis(mesh, ElementQuad2(), intorder=6)
        self.edges = {n: FacetBasis(mesh, ElementQuad2(), facets=f, intorder=8) for n, f in facets.items()}
        self.probes = [(r, level * self.thickness(r)) for r in radii for level in (0.0, 0.5, 1.0)]
        self.nodes = [self.nearest(r, z) for r, z in self.probes]

    def nearest(self, r, z):
        distance = np.hypot(self.basis.doflocs[0] - r, self.basis.doflocs[1] - z)
        assert distance.min() < 1e-9, (r, z, distance.min())
        return int(distance.argmin())

    def film(self, name, r, z, time):
        face = self.case.faces[name]
        bare = table(face.film, z if name in ("rim", "hole") else r) * table(face.factor, time)
        if face.insulation:
            assert not face.emissivity
            bare = 1 / (1 / bare + face.insulation[0] / face.insulation[1])
        return bare

    def capacity(self, t):
        """rho cp: the derivative of the stored heat t (a t + c)/(b t + 1)."""
        a, b, c = self.case.heat
        return self.case.density * ((2 * a * t + c) / (b * t + 1) - b * t * (a * t + c) / (b * t + 1) ** 2)

    def matrices(self, time):
        """Heat capacity, and conduction with films, linearised at the start temperature."""
        case, start = self.case, self.case.start
        capacity, k = self.capacity(start), case.conductivity[0] + case.conductivity[1] * start
        mass = BilinearForm(lambda u, v, w: capacity * u * v * w.x[0]).assemble(self.basis)
        stiffness = BilinearForm(lambda u, v, w: k * dot(grad(u), grad(v)) * w.x[0]).assemble(self.basis)
        load = np.zeros(self.basis.N)
        for name, edge in self.edges.items():
            radiative = 4 * case.faces[name].emissivity * STEFAN_BOLTZMANN * (start + ZERO) ** 3
            film = lambda w, n=name, q=radiative: self.film(n, w.x[0], w.x[1], time) + q
            stiffness = stiffness + BilinearForm(lambda u, v, w: film(w) * u * v * w.x[0]).assemble(edge)
            load += LinearForm(lambda v, w: film(w) * v * w.x[0]).assemble(edge)
        return mass.tocsc(), stiffness.tocsc(), load

    def imbalance(self, t, rate, time, air):
        """Residual of the heat equation for nodal temperatures and their rates."""
        case, (k0, k1) = self.case, self.case.conductivity

        def inside(v, w):
            flow = (k0 + k1 * w.t) * dot(grad(w.t), grad(v))
            return (self.capacity(w.t) * w.rate * v + flow) * w.x[0]

        basis = self.basis
        out = LinearForm(inside).assemble(basis, t=basis.interpolate(t), rate=basis.interpolate(rate))
        for name, edge in self.edges.items():
            eps = case.faces[name].emissivity

            def leaving(v, w, n=name, e=eps):
                heat = self.film(n, w.x[0], w.x[1], time) * (w.t - air)
                heat = heat + e * STEFAN_BOLTZMANN * ((w.t + ZERO) ** 4 - (air + ZERO) ** 4)
                return heat * v * w.x[0]

            out += LinearForm(leaving).assemble(edge, t=edge.interpolate(t))
        return out


# Hairer and Wanner, table IV.6.5: gamma = 1/4, stiffly accurate.
A = np.array([
    [1 / 4, 0, 0, 0, 0],
    [1 / 2, 1 / 4, 0, 0, 0],
    [17 / 50, -1 / 25, 1 / 4, 0, 0],
    [371 / 1360, -137 / 2720, 15 / 544, 1 / 4, 0],
    [25 / 24, -49 / 48, 125 / 16, -85 / 12, 1 / 4],
])
C = A.sum(axis=1)


def check_order_conditions():
    """All eight conditions of order four, so that a slip of memory cannot pass."""
    b, one = A[-1], np.ones(5)
    sums = [b @ one, b @ C, b @ C**2, b @ A @ C, b @ C**3, (b * C) @ A @ C, b @ A @ C**2, b @ A @ A @ C]
    assert np.allclose(sums, [1, 1 / 2, 1 / 3, 1 / 6, 1 / 4, 1 / 8, 1 / 12, 1 / 24], atol=1e-13), sums


def run(case: Case, fineness: int, longest: float) -> np.ndarray:
    """Temperatures [degC], `[times, probes]`; steps grow from `longest`/64 to `longest`."""
    disc = Disc(case, fineness)
    t = np.full(disc.basis.N, case.start)
    kinks = {p for p, _ in case.air} | {p for f in case.faces.values() for p, _ in f.factor}
    end = max(case.times)
    knots = sorted({0.0, float(end)} | {float(k) for k in kinks if 0 < k < end})
    saved = {}
    for begin, finish in zip(knots[:-1], knots[1:]):
        # Tables mean the value after a jump; half a second is inside the stretch.
        mass, stiffness, load = disc.matrices(begin + 0.5)
        factors, level, done, now = {}, 64, 0, begin
        while now < finish - 1e-9:
            step = longest / level
            if level > 1 and done >= 12 and abs((now - begin) / (2 * step) % 1) < 1e-9:
                level, done = level // 2, 0
                continue
            if step not in factors:
                factors[step] = splu((mass + step / 4 * stiffness).tocsc())
            t = advance(disc, t, now, step, (stiffness, load, factors[step], begin + 0.5))
            now, done = now + step, done + 1
            for wanted in case.times:
                if abs(now - wanted) < 1e-6:
                    saved[wanted] = t[disc.nodes]
    assert len(saved) == len(case.times), f"missed an output time: {sorted(saved)}"
    return np.array([saved[wanted] for wanted in case.times])


def advance(disc: Disc, t, now, step, frozen):
    """One step; rates are found exactly where the problem is linear, else by iteration."""
    stiffness, load, factor, inside = frozen
    rates = np.zeros((5, t.size))
    for stage in range(5):
        base = t + step * (A[stage, :stage] @ rates[:stage])
        air = table(disc.case.air, now + C[stage] * step)
        if disc.case.linear:
            rates[stage] = factor.solve(air * load - stiffness @ base)
            continue
        rate = rates[stage - 1].copy() if stage else np.zeros(t.size)
        for _ in range(30):
            correction = factor.solve(disc.imbalance(base + step / 4 * rate, rate, inside, air))
            rate -= correction
            if np.abs(correction).max() * step < 1e-9:
                break
        else:
            raise RuntimeError("no convergence")
        rates[stage] = rate
    return t + step * (A[-1] @ rates)


def study(case: Case) -> tuple[list[str], str]:
    """Rows of one case, and what the refinements changed."""
    fineness = 1 if not case.linear else 2
    coarse, fine, best = run(case, fineness, 60), run(case, 2 * fineness, 60), run(case, 2 * fineness, 30)
    mesh, steps = np.abs(fine - coarse), np.abs(best - fine)
    error = np.maximum(mesh + steps, SMALLEST_ERROR)
    disc = Disc(case, 2 * fineness)
    rows = [
        f"{case.name},{time},{r:.10g},{z:.10g},{best[i, j]:.6f},{error[i, j]:.1e}"
        for i, time in enumerate(case.times)
        for j, (r, z) in enumerate(disc.probes)
    ]
    said = (
        f"# {case.name}: {disc.basis.N} unknowns; doubling the mesh moved at most {1e3 * mesh.max():.3f} mK, "
        f"halving the steps at most {1e3 * steps.max():.4f} mK"
    )
    print(said, flush=True)
    return rows, said


def check_flat_disc() -> str:
    """The method on a flat disc, whose exact temperatures are in `data/conduction.csv`."""
    everywhere = {name: Face([(0, 10.0)]) for name in ("front", "back", "rim")}
    disc = Case("flat", 0.4, 0.05, 0.0, **SODA, start=10.0, air=[(0, 0.0)], faces=everywhere, times=(600, 3600))
    computed = run(disc, 2, 60)
    # Rows `finite-cylinder-excess`: middle and front on the axis, middle and front at the rim.
    exact = 10 * np.array([
        [0.91791468552418, 0.8144978008522268, 0.7494775649494811, 0.6650376533531925],
        [0.4955284458, 0.4395096041, np.nan, 0.2699063135],
    ])
    error = np.nanmax(np.abs(computed[:, [1, 2, 4, 5]] - exact))
    assert error < 5e-5, error
    return f"# a flat disc, whose exact solution is known, came out within {1e3 * error:.4f} mK"


def main(path: Path) -> None:
    """Writes the table."""
    check_order_conditions()
    flat = check_flat_disc()
    studies = [study(case) for case in CASES]
    head = [
        "# source: finite_element.py beside this folder, written for this purpose",
        f"# made with: scikit-fem {skfem.__version__}, numpy {np.__version__}, scipy {scipy.__version__}",
        "# units: s, m, m above the back, degrees Celsius, K",
        "# precision: error_k of each row = change by doubling the mesh + change by halving the steps, at least 2e-5 K",
        flat,
        *(said for _, said in studies),
        "case,time_s,radius_m,height_m,temperature_c,error_k",
    ]
    lines = head + [row for rows, _ in studies for row in rows]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
