//! Compares names as people write them: capitals, blanks, hyphens and underscores do not count.

/// Whether two spoken names are the same name.
///
/// `iron remover`, `Iron-Remover` and ` iron  remover` are one name. Only ASCII capitals fold: the
/// names of the catalog are ASCII, and a study asks for every step, so this must stay cheap.
pub fn same_name(left: &str, right: &str) -> bool {
    // Most names that are asked for differ in their first letter, and a check asks for thousands.
    let first =
        |name: &str| name.as_bytes().first().map(u8::to_ascii_lowercase).filter(u8::is_ascii_alphanumeric);
    match (first(left), first(right)) {
        (Some(left), Some(right)) if left != right => false,
        _ => folded(left).eq(folded(right)),
    }
}

/// Whether `name` is the id or one of the aliases.
pub(super) fn is_called(name: &str, id: &str, aliases: &[&str]) -> bool {
    same_name(name, id) || aliases.iter().any(|alias| same_name(name, alias))
}

/// Small letters, with a single 0 after each word, so that a hyphen equals a blank.
fn folded(name: &str) -> impl Iterator<Item = u8> + '_ {
    name.as_bytes()
        .split(|byte| matches!(byte, b' ' | b'\t' | b'-' | b'_'))
        .filter(|word| !word.is_empty())
        .flat_map(|word| word.iter().map(u8::to_ascii_lowercase).chain([0]))
}
