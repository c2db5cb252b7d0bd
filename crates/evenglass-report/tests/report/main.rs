//! The report as a reader meets it: files, tables, words and pictures of whole nights.

mod folders;
mod pictures;
mod tables;
mod toy;
mod words;
