//! Motions that strain nothing, and how much of them a displacement holds.

use crate::deflection::free_body::Reading;
use crate::deflection::unknowns::DIRECTIONS;
use crate::mesh::Mesh;

/// A motion of the glass as a whole.
#[derive(Debug, Clone)]
pub(crate) struct RigidMotion {
    /// Its displacements, `[nodes]`.
    displacement: Vec<[f64; DIRECTIONS]>,
    /// Weights of the volume integral of this motion times a displacement, `[nodes]`.
    pub(crate) measure: Vec<[f64; DIRECTIONS]>,
    /// That integral for the motion itself \[m³, m⁵\].
    pub(crate) square: f64,
}

impl RigidMotion {
    /// All of an order, at right angles to each other (eq. E-5).
    ///
    /// * `moments` — volume integrals of each node's shape function times 1, r and z
    pub(crate) fn all(mesh: &Mesh, order: usize, moments: &[[f64; 3]]) -> Vec<Self> {
        match order {
            0 => vec![Self::new(mesh, moments, |[one, _, _]| [0.0, one, 0.0])],
            1 => {
                let total = |part: usize| moments.iter().map(|moment| moment[part]).sum::<f64>();
                let centre = total(2) / total(0);
                vec![
                    Self::new(mesh, moments, |[one, _, _]| [one, 0.0, -one]),
                    Self::new(mesh, moments, |[one, r, z]| {
                        let above = z - centre * one;
                        [above, -r, -above]
                    }),
                ]
            }
            _ => Vec::new(),
        }
    }

    /// From what makes a displacement of 1, r and z.
    fn new(
        mesh: &Mesh,
        moments: &[[f64; 3]],
        motion: impl Fn([f64; 3]) -> [f64; DIRECTIONS],
    ) -> Self {
        let positions = mesh.positions();
        let displacement: Vec<_> = positions.iter().map(|&(r, z)| motion([1.0, r, z])).collect();
        let measure: Vec<_> = moments.iter().map(|&moment| motion(moment)).collect();
        let square = displacement.iter().zip(&measure).map(|(a, b)| product(a, b)).sum();
        Self { displacement, measure, square }
    }

    /// Reading of this motion for a measure of one.
    pub(crate) fn share(&self, reading: &Reading) -> f64 {
        product(&self.displacement[reading.node], &reading.weights) / self.square
    }
}

fn product(first: &[f64; DIRECTIONS], second: &[f64; DIRECTIONS]) -> f64 {
    first.iter().zip(second).map(|(a, b)| a * b).sum()
}
