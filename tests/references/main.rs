//! Does the program reproduce what others have published or computed?
//!
//! Three layers. The series solutions of conduction are written out here, from
//! the textbooks, and checked against a table of their values computed
//! elsewhere (`data/conduction.csv`) and against worked examples. The solver is
//! then checked against the same table, against the same examples, and against
//! a general-purpose finite-element library on mirrors no series can describe
//! (`data/finite_element.csv`). The same library gives the figure of thirteen more, three
//! of them lopsided and solved in three dimensions (`data/figure_*.csv`,
//! `data/lopsided_*.csv`).
//!
//! No number in `data` comes from the program itself.

mod against_end_to_end;
mod against_figure;
mod against_finite_element;
mod against_handbook;
mod against_series;
mod asymmetric_slab;
mod bessel;
mod case;
mod cylinder;
mod end_to_end;
mod falling_air;
mod figure_table;
mod finite_cylinder;
mod handbook;
mod mirrors;
mod roots;
mod semi_infinite;
mod slab;
mod solver;
mod steady_disc;
mod table;
mod thin_disc;
