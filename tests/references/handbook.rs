//! Worked examples.
