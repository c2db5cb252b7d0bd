//! Small changes of temperatures, and the state they are asked about.

use evenglass_disc::Exchange;

/// The state that changes are asked about.
pub(super) struct State<'a> {
    /// Of the glass at each point \[K\].
    pub(super) temperature: &'a [f64],
    pub(super) exchange: &'a [Exchange],
}

/// Small changes of temperatures \[K\].
pub(super) struct Changes<'a> {
    /// Of the glass at each point.
    pub(super) glass: &'a [f64],
    pub(super) around: f64,
    /// Of what the face radiates to.
    pub(super) radiant: f64,
}
