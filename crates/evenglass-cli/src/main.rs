//! The `evenglass` command.

fn main() {}
