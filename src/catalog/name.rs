//! Compares names as people write them: capitals, blanks, hyphens and underscores do not count.

/// Whether two spoken names are the same name.
///
/// `iron remover`, `Iron-Remover` and ` iron  remover` are one name.
pub fn same_name(left: &str, right: &str) -> bool {
    folded(left).eq(folded(right))
}

/// Whether `name` is the id or one of the aliases.
pub(super) fn is_called(name: &str, id: &str, aliases: &[&str]) -> bool {
    same_name(name, id) || aliases.iter().any(|alias| same_name(name, alias))
}

/// Lower-case letters, with a single NUL between words, so that a hyphen equals a blank.
fn folded(name: &str) -> impl Iterator<Item = char> + '_ {
    name.split(|c: char| c.is_whitespace() || c == '-' || c == '_')
        .filter(|word| !word.is_empty())
        .flat_map(|word| word.chars().flat_map(char::to_lowercase).chain(['\0']))
}
