//! Writes `docs/validation/README.md` and fails when the committed page is stale.
//!
//! The page sets published values beside ours. The published ones, and the tolerances,
//! are the reference tests' own tables; ours are computed here, by the program's code.
//! `EVENGLASS_UPDATE=1 cargo test -p evenglass-simulation --test validation` rewrites it.
#![allow(dead_code, reason = "the reference tests use more of the modules they share with this")]

mod air;
mod conduction;
mod examples;
mod figure;
mod finite_element;
mod image;
mod page;

#[path = "../references/bessel.rs"]
mod bessel;
#[path = "../references/case.rs"]
mod case;
#[path = "../references/check_table.rs"]
mod check_table;
#[path = "../references/cylinder.rs"]
mod cylinder;
#[path = "../references/end_to_end.rs"]
mod end_to_end;
#[path = "../references/figure_table.rs"]
mod figure_table;
#[path = "../references/film_checks.rs"]
mod film_checks;
#[path = "../references/handbook.rs"]
mod handbook;
#[path = "../references/mirrors.rs"]
mod mirrors;
#[path = "../references/roots.rs"]
mod roots;
#[path = "../references/semi_infinite.rs"]
mod semi_infinite;
#[path = "../references/slab.rs"]
mod slab;
#[path = "../references/solver.rs"]
mod solver;
#[path = "../references/table.rs"]
mod table;
