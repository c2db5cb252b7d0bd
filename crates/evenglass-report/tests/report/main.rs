//! The report as a reader meets it: files, tables, words and pictures of whole nights.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod changes;
mod comparisons;
mod computed;
mod folders;
mod pictures;
mod sizes;
mod tables;
mod toy;
mod words;
