//! Temperatures linear in x, y and z strain nothing, whatever the shape: B. A. Boley and
//! J. H. Weiner, *Theory of Thermal Stresses* (1960), from memory. Their displacements are
//! known, and so is the figure. Rigid motion is taken out here by sums over the volume.

use evenglass_optics::{Blank, Deflection, MeshSize};

use crate::warmed::{EDGE, EXPANSION, FINE, Figure, RIM, curved, figure, flat, from, holed};

/// Radial, axial and tangential displacement per expansion.
type Displacement = fn(f64, f64) -> [f64; 3];

/// The same where it knows the shape.
type Motion = Box<dyn Fn(f64, f64) -> [f64; 3]>;

/// Sums over the volume by ten panels of three Gauss points each way; exact to rounding for
/// the polynomials here.
fn over_volume(blank: &Blank, density: impl Fn(f64, f64) -> f64) -> f64 {
    const GAUSS: [(f64, f64); 3] = [
        (-0.774_596_669_241_483_4, 5.0 / 18.0),
        (0.0, 8.0 / 18.0),
        (0.774_596_669_241_483_4, 5.0 / 18.0),
    ];
    const PANELS: usize = 10;
    let points = || {
        (0..PANELS).flat_map(|panel| {
            GAUSS.map(|(x, w)| ((panel as f64 + 0.5 + 0.5 * x) / PANELS as f64, w / PANELS as f64))
        })
    };
    let width = blank.outer_radius_m - blank.inner_radius_m;
    let mut sum = 0.0;
    for (along, radial_weight) in points() {
        let radius = blank.inner_radius_m + along * width;
        let thickness = blank.thickness(radius);
        for (across, axial_weight) in points() {
            let weight = radial_weight * axial_weight * width * thickness * radius;
            sum += weight * density(radius, across * thickness);
        }
    }
    sum
}

/// The figure in nanometres of a displacement whose mean motion is taken out.
fn free(blank: &Blank, order: usize, displacement: Displacement) -> impl Fn(f64) -> f64 {
    let shape = *blank;
    let volume = over_volume(blank, |_, _| 1.0);
    let centre = over_volume(blank, |_, z| z) / volume;
    let motions: Vec<Motion> = match order {
        0 => vec![Box::new(|_, _| [0.0, 1.0, 0.0])],
        1 => vec![
            Box::new(|_, _| [1.0, 0.0, -1.0]),
            Box::new(move |r, z| [z - centre, -r, centre - z]),
        ],
        _ => Vec::new(),
    };
    let product = |a: [f64; 3], b: [f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    let shares: Vec<f64> = motions
        .iter()
        .map(|motion| {
            over_volume(blank, |r, z| product(motion(r, z), displacement(r, z)))
                / over_volume(blank, |r, z| product(motion(r, z), motion(r, z)))
        })
        .collect();
    move |radius| {
        let height = shape.thickness(radius);
        let seen = |[radial, axial, _]: [f64; 3]| axial - shape.slope(radius) * radial;
        let moved = motions.iter().zip(&shares).map(|(m, share)| share * seen(m(radius, height)));
        EXPANSION * (seen(displacement(radius, height)) - moved.sum::<f64>())
    }
}

/// Largest gap \[nm\] at the nodes.
fn gap(figure: &Figure, expected: impl Fn(f64) -> f64) -> f64 {
    let gaps =
        figure.radii.iter().zip(&figure.profile).map(|(&r, value)| (value - expected(r)).abs());
    gaps.fold(0.0, f64::max)
}

fn shapes() -> [Blank; 6] {
    [
        flat(),
        curved(4.0),
        curved(3.0),
        holed(flat(), 0.03),
        holed(curved(4.0), 0.03),
        holed(curved(3.0), 0.08),
    ]
}

/// A uniform kelvin: the shape grows as a whole, u = (r, z).
#[test]
fn a_uniform_warming_scales_the_shape() {
    for blank in shapes() {
        let warmed = figure(&blank, MeshSize::default(), 0, |_, _| 1.0);
        // Five digits below an atom: what rounding leaves of some 100 nm.
        let gap = gap(&warmed, free(&blank, 0, |r, z| [r, z, 0.0]));
        assert!(gap < 1e-7, "{blank:?}: off by {gap:.1e} nm");
        let curvature = -0.5 * EXPANSION * RIM * RIM * blank.curvature_per_m;
        let fit = warmed.round();
        assert!((fit.defocus_m - curvature).abs() < 1e-7, "{blank:?}: {fit:?}");
        assert!(fit.rms_m < 1e-7, "{blank:?}: {fit:?}");
    }
}

/// T = z/t: u = (rz, (z² − r²)/2)/t.
fn along_the_axis(r: f64, z: f64) -> [f64; 3] {
    [r * z / EDGE, 0.5 * (z * z - r * r) / EDGE, 0.0]
}

/// T = x/a, order 1: u = ((r² − z²)/2, rz, (r² + z²)/2)/a.
fn across(r: f64, z: f64) -> [f64; 3] {
    [0.5 * (r * r - z * z) / RIM, r * z / RIM, 0.5 * (r * r + z * z) / RIM]
}

#[test]
fn a_gradient_along_the_axis_bends_a_flat_disc_into_a_paraboloid() {
    for blank in [flat(), holed(flat(), 0.03), holed(flat(), 0.08)] {
        let warmed = figure(&blank, MeshSize::default(), 0, |_, z| z / EDGE);
        let gap = gap(&warmed, free(&blank, 0, along_the_axis));
        assert!(gap < 1e-6, "{blank:?}: off by {gap:.1e} of 3600 nm");
        for part in [0.5, 0.75, 1.0] {
            let inner = blank.inner_radius_m;
            let sag = -0.5 * EXPANSION * ((part * RIM).powi(2) - inner * inner) / EDGE;
            let own = warmed.above_centre(part * RIM);
            assert!((own - sag).abs() < 1e-6, "{own}, expected {sag}");
        }
    }
}

#[test]
fn a_gradient_across_tilts_a_flat_disc_about_its_middle() {
    for blank in [flat(), holed(flat(), 0.03)] {
        let warmed = figure(&blank, MeshSize::default(), 1, |r, _| r / RIM);
        let gap = gap(&warmed, |r| 0.5 * EXPANSION * EDGE * r / RIM);
        assert!(gap < 1e-7, "{blank:?}: off by {gap:.1e} of 225 nm");
    }
}

/// On a curved front the displacement is a polynomial of fourth degree in an element's own
/// coordinates, so that elements only come near: fivefold and more for half the size.
#[test]
fn gradients_strain_no_curved_mirror_either() {
    let sizes = [(10, 3), (20, 6), (40, 12)].map(|(radial, axial)| MeshSize { radial, axial });
    for blank in shapes().into_iter().filter(|blank| blank.curvature_per_m > 0.0) {
        let along = sizes.map(|size| {
            gap(&figure(&blank, size, 0, |_, z| z / EDGE), free(&blank, 0, along_the_axis))
        });
        let across = sizes
            .map(|size| gap(&figure(&blank, size, 1, |r, _| r / RIM), free(&blank, 1, across)));
        assert!(along[2] < 2e-3 && across[2] < 2e-4, "{blank:?}: {along:?}, {across:?}");
        for errors in [along, across] {
            assert!(errors[0] > 5.0 * errors[1] && errors[1] > 5.0 * errors[2], "{errors:?}");
        }
    }
}

/// Nor does the figure of such fields know Poisson's ratio.
#[test]
fn poissons_ratio_does_not_matter_where_nothing_is_strained() {
    let blank = holed(curved(4.0), 0.03);
    for poisson_ratio in [-0.3, 0.0, 0.17, 0.4] {
        let size = MeshSize::default();
        let deflection = Deflection::new(&blank, size, poisson_ratio, 0).unwrap();
        let uniform = from(&deflection, |_, _| 1.0);
        assert!(gap(&uniform, free(&blank, 0, |r, z| [r, z, 0.0])) < 1e-7, "{poisson_ratio}");
        let gradient = from(&deflection, |_, z| z / EDGE);
        let off = gap(&gradient, free(&blank, 0, along_the_axis));
        assert!(off < 2e-2, "{poisson_ratio}: off by {off:.1e} of 3600 nm");
    }
}

/// Figure of T = z/(50 mm): focus, PV and RMS of α [(z² − r²)/2 − r² z/R]/t on z = t(r) by
/// exact sums: 400 mm f/4 and f/6 with an edge of 50 mm.
#[test]
fn a_gradient_along_the_axis_leaves_a_curved_mirror_nearly_in_focus() {
    for (focal_ratio, focus, pv, rms) in
        [(4.0, -3_659.765_625, 2.636_47, 0.786_118), (6.0, -3_639.062_5, 1.171_77, 0.349_386)]
    {
        let fit = figure(&curved(focal_ratio), FINE, 0, |_, z| z / EDGE).round();
        // PV and RMS as printed in the table; focus to the seventh digit.
        assert!((fit.defocus_m - focus).abs() < 1e-5, "{fit:?}");
        assert!((fit.pv_m - pv).abs() < 5e-4, "{fit:?}");
        assert!((fit.rms_m - rms).abs() < 1e-5, "{fit:?}");
    }
}
