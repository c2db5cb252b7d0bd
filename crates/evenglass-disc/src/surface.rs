//! The surface of the glass: boundary points along the edges of the outer blocks.

use std::f64::consts::TAU;

use crate::blocks::Block;
use crate::boundary::{BoundaryPoint, Breaks, FaceName};
use crate::mesh::Mesh;
use crate::points::gauss;

/// A boundary point and how its value follows from the points of the grid.
#[derive(Debug, Clone, Default)]
pub(crate) struct Surface {
    /// All boundary points.
    pub(crate) points: Vec<BoundaryPoint>,
    /// True surface each stands for \[m²\].
    pub(crate) area: Vec<f64>,
    /// Where each one's terms start in `terms`, `[points + 1]`.
    pub(crate) offset: Vec<usize>,
    /// (index of the grid point, weight), in runs.
    pub(crate) terms: Vec<(usize, f64)>,
}

impl Surface {
    /// Lays boundary points on all faces of the glass.
    pub(crate) fn of(mesh: &Mesh, breaks: &Breaks) -> Self {
        let mut surface = Self { points: vec![], area: vec![], offset: vec![0], terms: vec![] };
        let top = mesh.fraction.len() - 1;
        surface.lay_face(mesh, (FaceName::Back, 0), &breaks.of(FaceName::Back));
        surface.lay_face(mesh, (FaceName::Front, top), &breaks.of(FaceName::Front));
        let rim = mesh.radius.len() - 1;
        surface.lay_wall(mesh, (FaceName::Rim, rim), &breaks.of(FaceName::Rim));
        if mesh.section.has_hole() {
            surface.lay_wall(mesh, (FaceName::Hole, 0), &breaks.of(FaceName::Hole));
        }
        surface
    }

    /// Boundary points of the front or the back, which is one level of the columns.
    fn lay_face(&mut self, mesh: &Mesh, (face, level): (FaceName, usize), breaks: &[f64]) {
        for block in &mesh.radial {
            for sample in samples(block, breaks) {
                let radius = sample.position;
                // The block's own points carry the weight that fits the axis.
                let measure = match sample.own_point {
                    Some(i) => mesh.radial_measure(block, i),
                    None => sample.share * radius,
                };
                let (height_m, stretch) = match face {
                    FaceName::Front => {
                        (mesh.section.thickness(radius), mesh.section.slope(radius).hypot(1.0))
                    }
                    _ => (0.0, 1.0),
                };
                let point = BoundaryPoint { face, radius_m: radius, height_m };
                let node = |i: usize| mesh.index(block.first + i, level);
                self.push(point, TAU * measure * stretch, &sample.values, node);
            }
        }
    }

    /// Boundary points of the rim or the hole's wall, which is one column.
    fn lay_wall(&mut self, mesh: &Mesh, (face, column): (FaceName, usize), breaks: &[f64]) {
        let radius_m = mesh.radius[column];
        let thickness = mesh.section.thickness(radius_m);
        let breaks: Vec<f64> = breaks.iter().map(|height| height / thickness).collect();
        for block in &mesh.axial {
            for sample in samples(block, &breaks) {
                let height_m = sample.position * thickness;
                let area = TAU * radius_m * thickness * sample.share;
                let point = BoundaryPoint { face, radius_m, height_m };
                let node = |j: usize| mesh.index(column, block.first + j);
                self.push(point, area, &sample.values, node);
            }
        }
    }

    fn push(
        &mut self,
        point: BoundaryPoint,
        area: f64,
        values: &[f64],
        node: impl Fn(usize) -> usize,
    ) {
        self.points.push(point);
        self.area.push(area);
        let terms = values.iter().enumerate().map(|(i, &value)| (node(i), value));
        self.terms.extend(terms.filter(|term| term.1 != 0.0));
        self.offset.push(self.terms.len());
    }

    pub(crate) fn terms(&self, point: usize) -> &[(usize, f64)] {
        &self.terms[self.offset[point]..self.offset[point + 1]]
    }

    /// The same where the first points of the grid are always zero: without their terms.
    pub(crate) fn without_first(&self, count: usize) -> Self {
        let (points, area) = (self.points.clone(), self.area.clone());
        let mut reduced = Self { points, area, offset: vec![0], terms: vec![] };
        for point in 0..self.points.len() {
            let terms = self.terms(point).iter();
            reduced.terms.extend(terms.filter(|&&(node, _)| node >= count));
            reduced.offset.push(reduced.terms.len());
        }
        reduced
    }
}

/// A place along a block's edge at which heat is exchanged.
struct Sample {
    /// In the measure of the block: radius \[m\] or fraction of the thickness.
    position: f64,
    /// Length of the edge it stands for, in the same measure.
    share: f64,
    /// Values of the block's cardinal polynomials there, `[order + 1]`.
    values: Vec<f64>,
    /// Which of the block's own points it is, if it is one.
    own_point: Option<usize>,
}

/// The samples of a block's edge: its own points or, where the film breaks,
/// Gauss points of each part.
fn samples(block: &Block, breaks: &[f64]) -> Vec<Sample> {
    let at = |local: f64| block.from + block.length * local;
    let Some(parts) = parts(block, breaks) else {
        let points = block.points.position.iter().zip(&block.points.weight).enumerate();
        return points
            .map(|(own, (&local, weight))| Sample {
                position: at(local),
                share: block.length * weight,
                values: (0..=block.order()).map(|k| f64::from(u8::from(k == own))).collect(),
                own_point: Some(own),
            })
            .collect();
    };
    let (points, weights) = gauss(block.order() + 2);
    let mut samples = vec![];
    for part in parts.windows(2) {
        for (&s, &weight) in points.iter().zip(&weights) {
            let local = part[0] + (part[1] - part[0]) * s;
            samples.push(Sample {
                position: at(local),
                share: weight * (part[1] - part[0]) * block.length,
                values: block.points.cardinal(local),
                own_point: None,
            });
        }
    }
    samples
}

/// The parts of the unit interval into which breaks cut a block, or `None`
/// where no break touches it. A break on its very end counts, because the
/// film there has two values and the block must see its own.
fn parts(block: &Block, breaks: &[f64]) -> Option<Vec<f64>> {
    let margin = 1e-9;
    let mut cuts: Vec<f64> = breaks
        .iter()
        .map(|b| (b - block.from) / block.length)
        .filter(|s| (-margin..=1.0 + margin).contains(s))
        .collect();
    if cuts.is_empty() {
        return None;
    }
    cuts.push(0.0);
    cuts.push(1.0);
    cuts.sort_by(f64::total_cmp);
    let mut parts = vec![0.0];
    for cut in cuts {
        if cut > parts[parts.len() - 1] + margin && cut < 1.0 - margin {
            parts.push(cut);
        }
    }
    parts.push(1.0);
    Some(parts)
}
