//! Whole nights in which mirrors dew, and what keeps them dry.

mod nights;
mod prevention;
mod scenario;
mod steps;
