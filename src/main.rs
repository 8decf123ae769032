//! The `tapeline` command: parses arguments and returns the exit code.
fn main() {}
