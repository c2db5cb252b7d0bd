//! The section's points and its geometry factors: volumes, conduction, surface.

use evenglass_units::Length;
use ndarray::Array2;

use crate::boundary::{BoundaryPoint, Breaks, FaceName};
use crate::layout::{Mark, edges};
use crate::points::{Points, Weight, gauss};
use crate::resolution::Resolution;
use crate::section::Section;
use crate::skyline::Skyline;

/// A run of points between two block edges in one direction.
#[derive(Debug, Clone)]
pub(crate) struct Block {
    /// Index of its first point among the points of that direction.
    pub(crate) first: usize,
    /// Position of its first edge: radius [m], or fraction of the local thickness.
    pub(crate) from: f64,
    /// Its length in the same measure.
    pub(crate) length: f64,
    /// Its points on the unit interval.
    pub(crate) points: Points,
}

impl Block {
    pub(crate) fn order(&self) -> usize {
        self.points.position.len() - 1
    }
}

/// A boundary point and how its value follows from the points of the grid.
#[derive(Debug, Clone)]
pub(crate) struct Surface {
    /// All boundary points.
    pub(crate) points: Vec<BoundaryPoint>,
    /// True surface each stands for [m²].
    pub(crate) area: Vec<f64>,
    /// Where each one's terms start in `terms`, `[points + 1]`.
    pub(crate) offset: Vec<usize>,
    /// (index of the grid point, weight), in runs.
    pub(crate) terms: Vec<(usize, f64)>,
}

impl Surface {
    fn push(
        &mut self,
        point: BoundaryPoint,
        area: f64,
        terms: impl IntoIterator<Item = (usize, f64)>,
    ) {
        self.points.push(point);
        self.area.push(area);
        self.terms.extend(terms);
        self.offset.push(self.terms.len());
    }

    pub(crate) fn terms(&self, point: usize) -> &[(usize, f64)] {
        &self.terms[self.offset[point]..self.offset[point + 1]]
    }
}

/// Everything about a mirror's shape that the time steps need; independent of
/// glass, films and night.
#[derive(Debug, Clone)]
pub struct Grid {
    pub(crate) section: Section,
    pub(crate) radial: Vec<Block>,
    pub(crate) axial: Vec<Block>,
    /// Radius of each column of points [m].
    pub(crate) radius: Vec<f64>,
    /// Fraction of the local thickness of each point of a column [-].
    pub(crate) fraction: Vec<f64>,
    /// Volume each point stands for [m³]; index = column · axial points + axial point.
    pub(crate) volume: Vec<f64>,
    /// Conduction between the points per unit of conductivity [m].
    pub(crate) conduction: Skyline,
    pub(crate) surface: Surface,
}

impl Grid {
    /// Cuts the section into points and computes its geometry factors.
    ///
    /// `breaks` are where the films jump or have a kink; the boundary integrals
    /// are split there, whatever the points.
    #[must_use]
    pub fn new(section: &Section, resolution: &Resolution, breaks: &Breaks) -> Self {
        let radial = radial_blocks(section, resolution, breaks);
        let axial = axial_blocks(section, resolution, breaks);
        let radius = positions(&radial);
        let fraction = positions(&axial);
        let mut grid = Self {
            section: *section,
            conduction: Skyline::zeros(profile(&radial, radius.len(), fraction.len())),
            volume: vec![0.0; radius.len() * fraction.len()],
            surface: Surface { points: vec![], area: vec![], offset: vec![0], terms: vec![] },
            radial,
            axial,
            radius,
            fraction,
        };
        grid.integrate_volume();
        grid.lay_surface(breaks);
        grid
    }

    /// Number of points.
    #[must_use]
    pub fn len(&self) -> usize {
        self.volume.len()
    }

    /// Never true: a grid has points.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.volume.is_empty()
    }

    /// Points along the radius and through the thickness.
    #[must_use]
    pub fn shape(&self) -> (usize, usize) {
        (self.radius.len(), self.fraction.len())
    }

    /// Radius of each column of points [m], ascending.
    #[must_use]
    pub fn radii(&self) -> &[f64] {
        &self.radius
    }

    /// Height of each point above the back [m], `[radial points, axial points]`.
    #[must_use]
    pub fn heights(&self) -> Array2<f64> {
        Array2::from_shape_fn(self.shape(), |(i, j)| {
            self.fraction[j] * self.section.thickness(self.radius[i])
        })
    }

    /// The boundary points, in the order in which [`crate::Surroundings`] meets them.
    #[must_use]
    pub fn boundary(&self) -> &[BoundaryPoint] {
        &self.surface.points
    }

    /// True surface [m²] each boundary point stands for, same order.
    #[must_use]
    pub fn boundary_area(&self) -> &[f64] {
        &self.surface.area
    }

    /// Volume of the glass [m³].
    #[must_use]
    pub fn total_volume(&self) -> f64 {
        self.volume.iter().sum()
    }

    /// (grid point, share of the volume): the weights of the volume mean.
    pub fn volume_shares(&self) -> impl Iterator<Item = (usize, f64)> {
        let total = self.total_volume();
        self.volume.iter().enumerate().map(move |(point, volume)| (point, volume / total))
    }

    /// (grid point, share of the true surface) of a face: the weights of its area mean.
    #[must_use]
    pub fn face_shares(&self, face: FaceName) -> Vec<(usize, f64)> {
        let mut shares = vec![0.0; self.len()];
        let mut total = 0.0;
        for (n, (point, area)) in self.surface.points.iter().zip(&self.surface.area).enumerate() {
            if point.face == face {
                total += area;
                for &(node, weight) in self.surface.terms(n) {
                    shares[node] += weight * area;
                }
            }
        }
        let used = shares.into_iter().enumerate().filter(|share| share.1 != 0.0);
        used.map(|(node, share)| (node, share / total)).collect()
    }

    /// The shape this grid was made for.
    #[must_use]
    pub fn section(&self) -> &Section {
        &self.section
    }

    /// Bytes the matrix of a time step takes.
    #[must_use]
    pub fn matrix_bytes(&self) -> usize {
        self.conduction.stored() * size_of::<f64>()
    }

    pub(crate) fn index(&self, column: usize, level: usize) -> usize {
        column * self.fraction.len() + level
    }

    /// ∫ over the radius that point `i` of a radial block stands for [m²], per radian.
    fn radial_measure(&self, block: &Block, i: usize) -> f64 {
        let share = block.length * block.points.weight[i];
        if self.touches_axis(block) {
            block.length * share
        } else {
            self.radius[block.first + i] * share
        }
    }

    fn touches_axis(&self, block: &Block) -> bool {
        block.first == 0 && !self.section.has_hole()
    }

    /// Volumes and conduction, block by block (docs/physics/conduction.md, eq. K-4).
    fn integrate_volume(&mut self) {
        for across in 0..self.radial.len() {
            for through in 0..self.axial.len() {
                let (r, z) = (self.radial[across].clone(), self.axial[through].clone());
                for i in 0..=r.order() {
                    for j in 0..=z.order() {
                        self.integrate_point(&r, &z, (i, j));
                    }
                }
            }
        }
    }

    /// Adds the share of one quadrature point. With η = z / t(r) the gradient is
    /// (∂T/∂r - η t'/t ∂T/∂η, 1/t ∂T/∂η) and dV = 2π r dr t dη: the cross terms
    /// of the sloped front are in the first component.
    fn integrate_point(&mut self, r: &Block, z: &Block, (i, j): (usize, usize)) {
        let radius = self.radius[r.first + i];
        let thickness = self.section.thickness(radius);
        let slope = self.section.slope(radius);
        let fraction = self.fraction[z.first + j];
        let volume = std::f64::consts::TAU
            * self.radial_measure(r, i)
            * z.length
            * z.points.weight[j]
            * thickness;
        let here = self.index(r.first + i, z.first + j);
        self.volume[here] += volume;

        let mut gradient: Vec<(usize, f64, f64)> = Vec::with_capacity(r.order() + z.order() + 2);
        for a in 0..=r.order() {
            let along = r.points.difference[(i, a)] / r.length;
            gradient.push((self.index(r.first + a, z.first + j), along, 0.0));
        }
        for b in 0..=z.order() {
            let up = z.points.difference[(j, b)] / (z.length * thickness);
            let along = -fraction * slope * up;
            gradient.push((self.index(r.first + i, z.first + b), along, up));
        }
        for (n, &(row, row_along, row_up)) in gradient.iter().enumerate() {
            for (m, &(column, along, up)) in gradient.iter().enumerate() {
                // Each symmetric pair once; a pair of terms of the same point twice.
                if column < row || (column == row && m <= n) {
                    let twice = if column == row && m < n { 2.0 } else { 1.0 };
                    let value = twice * volume * (row_along * along + row_up * up);
                    self.conduction.add(row, column, value);
                }
            }
        }
    }

    fn lay_surface(&mut self, breaks: &Breaks) {
        let top = self.fraction.len() - 1;
        self.lay_face(FaceName::Back, 0, &breaks.back);
        self.lay_face(FaceName::Front, top, &breaks.front);
        self.lay_wall(FaceName::Rim, self.radius.len() - 1, &breaks.rim);
        if self.section.has_hole() {
            self.lay_wall(FaceName::Hole, 0, &breaks.hole);
        }
    }

    /// Boundary points of the front or the back, at level `level` of the columns.
    fn lay_face(&mut self, face: FaceName, level: usize, breaks: &[f64]) {
        let stretch = |radius: f64, section: &Section| match face {
            FaceName::Front => section.slope(radius).hypot(1.0),
            _ => 1.0,
        };
        let height = |radius: f64, section: &Section| match face {
            FaceName::Front => section.thickness(radius),
            _ => 0.0,
        };
        for block in self.radial.clone() {
            let nodes: Vec<usize> =
                (0..=block.order()).map(|i| self.index(block.first + i, level)).collect();
            let rule = self.face_rule(&block, breaks);
            for (radius, measure, values) in rule {
                let point = BoundaryPoint {
                    face,
                    radius_m: radius,
                    height_m: height(radius, &self.section),
                };
                let area = std::f64::consts::TAU * measure * stretch(radius, &self.section);
                let terms = nodes.iter().copied().zip(values).filter(|t| t.1 != 0.0);
                self.surface.push(point, area, terms);
            }
        }
    }

    /// (radius, ∫ r dr, cardinal values) of a block's edge on a face: its own
    /// points, or, where the film breaks, Gauss points of each part.
    fn face_rule(&self, block: &Block, breaks: &[f64]) -> Vec<(f64, f64, Vec<f64>)> {
        let Some(parts) = parts(block, breaks) else {
            return (0..=block.order())
                .map(|i| {
                    (self.radius[block.first + i], self.radial_measure(block, i), unit(block, i))
                })
                .collect();
        };
        let (s, w) = gauss(block.order() + 2);
        let mut rule = vec![];
        for part in parts.windows(2) {
            for (&s, &w) in s.iter().zip(&w) {
                let local = part[0] + (part[1] - part[0]) * s;
                let radius = block.from + block.length * local;
                let measure = w * (part[1] - part[0]) * block.length * radius;
                rule.push((radius, measure, block.points.cardinal(local)));
            }
        }
        rule
    }

    /// Boundary points of the rim or the hole's wall, in column `column`.
    fn lay_wall(&mut self, face: FaceName, column: usize, breaks: &[f64]) {
        let radius = self.radius[column];
        let thickness = self.section.thickness(radius);
        let breaks: Vec<f64> = breaks.iter().map(|height| height / thickness).collect();
        for block in self.axial.clone() {
            let nodes: Vec<usize> =
                (0..=block.order()).map(|j| self.index(column, block.first + j)).collect();
            for (fraction, weight, values) in wall_rule(&block, &breaks) {
                let point =
                    BoundaryPoint { face, radius_m: radius, height_m: fraction * thickness };
                let area = std::f64::consts::TAU * radius * thickness * weight;
                let terms = nodes.iter().copied().zip(values).filter(|t| t.1 != 0.0);
                self.surface.push(point, area, terms);
            }
        }
    }

    /// Weights of the grid points whose sum is the value at a place inside the glass.
    ///
    /// `radius` and `height` are clamped into the section.
    #[must_use]
    pub fn interpolation(&self, radius: Length, height: Length) -> Vec<(usize, f64)> {
        let r = radius.metres().clamp(self.section.inner_radius(), self.section.outer_radius());
        let eta = (height.metres() / self.section.thickness(r)).clamp(0.0, 1.0);
        let across = holding(&self.radial, r);
        let through = holding(&self.axial, eta);
        let along = across.points.cardinal((r - across.from) / across.length);
        let up = through.points.cardinal((eta - through.from) / through.length);
        let mut terms = vec![];
        for (i, a) in along.iter().enumerate() {
            for (j, b) in up.iter().enumerate() {
                if a * b != 0.0 {
                    terms.push((self.index(across.first + i, through.first + j), a * b));
                }
            }
        }
        terms
    }
}

/// The block that holds `position`; the last one for its end.
fn holding(blocks: &[Block], position: f64) -> &Block {
    let after = blocks.partition_point(|block| block.from <= position);
    &blocks[after.saturating_sub(1)]
}

fn unit(block: &Block, i: usize) -> Vec<f64> {
    (0..=block.order()).map(|k| f64::from(u8::from(k == i))).collect()
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

/// (fraction of the thickness, share of it, cardinal values) along a wall.
fn wall_rule(block: &Block, breaks: &[f64]) -> Vec<(f64, f64, Vec<f64>)> {
    let Some(parts) = parts(block, breaks) else {
        return (0..=block.order())
            .map(|j| {
                let local = block.points.position[j];
                (
                    block.from + block.length * local,
                    block.length * block.points.weight[j],
                    unit(block, j),
                )
            })
            .collect();
    };
    let (s, w) = gauss(block.order() + 2);
    let mut rule = vec![];
    for part in parts.windows(2) {
        for (&s, &w) in s.iter().zip(&w) {
            let local = part[0] + (part[1] - part[0]) * s;
            let share = w * (part[1] - part[0]) * block.length;
            rule.push((block.from + block.length * local, share, block.points.cardinal(local)));
        }
    }
    rule
}

fn radial_blocks(section: &Section, resolution: &Resolution, breaks: &Breaks) -> Vec<Block> {
    let (inner, outer) = (section.inner_radius(), section.outer_radius());
    let wall =
        |position| Mark { position, finest: resolution.radial_finest, growth: resolution.growth };
    let axis = Mark { position: inner, finest: f64::INFINITY, growth: 0.0 };
    let mut marks = vec![if section.has_hole() { wall(inner) } else { axis }, wall(outer)];
    for &position in breaks.front.iter().chain(&breaks.back) {
        let apart = marks.iter().all(|m| (m.position - position).abs() > resolution.break_spacing);
        if apart && position > inner && position < outer {
            marks.push(resolution.break_mark(position));
        }
    }
    marks.sort_by(|a, b| a.position.total_cmp(&b.position));
    let count = resolution.blocks.map(|(radial, _)| radial);
    blocks(&edges(&marks, count), resolution.radial_order, !section.has_hole())
}

fn axial_blocks(section: &Section, resolution: &Resolution, breaks: &Breaks) -> Vec<Block> {
    let thickness = section.thickness(section.outer_radius());
    let face = |position, breaks: &[f64]| {
        if breaks.is_empty() {
            Mark { position, finest: resolution.axial_finest, growth: resolution.growth }
        } else {
            resolution.break_mark(position)
        }
    };
    let marks = [face(0.0, &breaks.back), face(thickness, &breaks.front)];
    let edges = edges(&marks, resolution.blocks.map(|(_, axial)| axial));
    let fractions: Vec<f64> = edges.iter().map(|edge| edge / thickness).collect();
    blocks(&fractions, resolution.axial_order, false)
}

fn blocks(edges: &[f64], order: usize, on_axis: bool) -> Vec<Block> {
    edges
        .windows(2)
        .enumerate()
        .map(|(n, pair)| Block {
            first: n * order,
            from: pair[0],
            length: pair[1] - pair[0],
            points: Points::lobatto(
                order,
                if on_axis && n == 0 { Weight::Radius } else { Weight::Plain },
            ),
        })
        .collect()
}

fn positions(blocks: &[Block]) -> Vec<f64> {
    let mut positions = vec![blocks[0].from];
    for block in blocks {
        let inner = &block.points.position[1..];
        positions.extend(inner.iter().map(|s| block.from + block.length * s));
    }
    positions
}

/// First column coupled to each row: all points of the row's own block column,
/// and of the block before it for a row on their common edge.
fn profile(radial: &[Block], columns: usize, levels: usize) -> Vec<usize> {
    let mut first_column = vec![0; columns];
    for block in radial.iter().rev() {
        for entry in &mut first_column[block.first + 1..=block.first + block.order()] {
            *entry = block.first;
        }
    }
    let rows = (0..columns * levels).map(|row| first_column[row / levels] * levels);
    rows.collect()
}
