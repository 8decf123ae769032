//! Finds a section, round or measure by the name that a row gives.

use std::collections::HashMap;

/// The names of one list, with every spelling that was asked for so far.
#[derive(Debug, Clone)]
pub(super) struct Names {
    loose: HashMap<String, Option<u32>>,
    // Rows repeat their names, so each spelling is folded once.
    asked: HashMap<String, Option<u32>>,
}

impl Names {
    /// Names in order of their ids.
    pub(super) fn new<'n>(names: impl Iterator<Item = &'n str>) -> Self {
        let mut asked = HashMap::new();
        let mut loose = HashMap::new();
        for (id, name) in names.enumerate() {
            let id = u32::try_from(id).ok();
            asked.entry(name.to_owned()).or_insert(id);
            // Two names that differ in capitals only are told apart by them and by nothing else.
            loose.entry(fold(name)).and_modify(|known| *known = None).or_insert(id);
        }
        Self { loose, asked }
    }

    /// The id of a name: as written, else without regard to capitals, blanks, hyphens and underscores.
    pub(super) fn find(&mut self, name: &str) -> Option<u32> {
        if let Some(&id) = self.asked.get(name) {
            return id;
        }
        let id = self.loose.get(&fold(name)).copied().flatten();
        self.asked.insert(name.to_owned(), id);
        id
    }

    /// The id of a name in a spelling that was found before.
    pub(super) fn known(&self, name: &str) -> Option<u32> {
        self.asked.get(name).copied().flatten()
    }

    /// Another spelling of a name, taken if nothing has it yet.
    pub(super) fn also(&mut self, spelling: &str, id: usize) {
        self.loose.entry(fold(spelling)).or_insert(u32::try_from(id).ok());
    }
}

/// Small letters and digits without what parts words, so that `Month 6`, `month-6` and `month6` are one name.
fn fold(name: &str) -> String {
    let parts = |letter: &char| letter.is_whitespace() || matches!(letter, '-' | '_');
    name.chars().filter(|letter| !parts(letter)).flat_map(char::to_lowercase).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn capitals_and_blanks_do_not_count_unless_they_are_all_there_is() {
        let mut names = Names::new(["month 6", "A1", "a1"].into_iter());
        let mut find = |name| names.find(name);
        assert_eq!(find("month 6"), Some(0));
        assert_eq!(find("Month-6"), Some(0));
        assert_eq!(find("month6"), Some(0));
        assert_eq!((find("A1"), find("a1")), (Some(1), Some(2)));
        assert_eq!(find("A 1"), None);
        assert_eq!(find("month 7"), None);
    }
}
