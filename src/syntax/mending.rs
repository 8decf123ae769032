//! A line mended by trial: a small change with which the line can be read is offered as it would then stand.

use super::blocks::STEPS;
use super::characters::comment;
use super::parser::{Misfit, is_reserved, parse_line};
use crate::diag::nearest;

/// Words that people write, and what the language has in their place. A change is offered only where the line can then be read.
const WORDS: &[(&str, &str)] = &[
    ("a", "1"),
    ("an", "1"),
    ("one", "1"),
    ("two", "2"),
    ("three", "3"),
    ("four", "4"),
    ("five", "5"),
    ("six", "6"),
    ("seven", "7"),
    ("eight", "8"),
    ("nine", "9"),
    ("ten", "10"),
    ("twelve", "12"),
    ("ein", "1"),
    ("eine", "1"),
    ("einen", "1"),
    ("zwei", "2"),
    ("drei", "3"),
    ("vier", "4"),
    ("zehn", "10"),
    ("overnight", "12 h"),
    ("each", "every"),
    ("alle", "every"),
    ("jede", "every"),
    ("under", "below"),
    ("less", "below"),
    ("unter", "below"),
    ("over", "above"),
    ("more", "above"),
    ("über", "above"),
    ("max", "below"),
    ("max.", "below"),
    ("maximum", "below"),
    ("min", "at least"),
    ("min.", "at least"),
    ("minimum", "at least"),
    ("mindestens", "at least"),
    ("+-", "within"),
    ("+/-", "within"),
    ("±", "within"),
    ("innerhalb", "within"),
    ("bis", "to"),
    ("ab", "from"),
    ("von", "from"),
    ("vor", "before"),
    ("nach", "after"),
    ("mit", "with"),
    ("für", "for"),
    ("durch", "by"),
    ("weil", "because"),
    ("since", "because"),
    ("und", "and"),
    ("breit", "wide"),
    ("mal", "times"),
    ("zweimal", "twice"),
    ("dewpoint", "dew point"),
    ("taupunkt", "dew point"),
    ("vol%", "% by volume"),
    ("vol.-%", "% by volume"),
    ("vol-%", "% by volume"),
    ("v/v", "% by volume"),
    ("approx", ""),
    ("approx.", ""),
    ("about", ""),
    ("ca.", ""),
    ("ca", ""),
    ("~", ""),
    ("tag", "day"),
    ("tage", "days"),
    ("woche", "week"),
    ("wochen", "weeks"),
    ("monat", "month"),
    ("monate", "months"),
    ("jahr", "year"),
    ("jahre", "years"),
    ("application", "apply"),
    ("day", "1 day"),
    ("week", "1 week"),
    ("month", "1 month"),
    ("year", "1 year"),
];

/// What follows where a line ends too early, by what is expected there.
const ENDINGS: &[(&str, &str)] = &[
    ("k_for", "for 12 months"),
    ("k_for", "for 500 ml"),
    ("k_across", "across"),
    ("k_wide", "wide"),
    ("k_x", "x 500 mm"),
    ("k_after", "after apply"),
    ("k_on", "on 2026-04-13"),
    ("v_name", "panel"),
];

/// The months by the first three letters of their names, in English, then in German where that differs.
const MONTHS: [(&str, &str); 12] = [
    ("jan", "jän"),
    ("feb", "feb"),
    ("mar", "mär"),
    ("apr", "apr"),
    ("may", "mai"),
    ("jun", "jun"),
    ("jul", "jul"),
    ("aug", "aug"),
    ("sep", "sep"),
    ("oct", "okt"),
    ("nov", "nov"),
    ("dec", "dez"),
];

/// Beyond so many bytes a line is more than a statement, and trying it costs more than it tells.
const LONGEST: usize = 160;

/// So many measures of a round are looked at.
const MOST_READ: usize = 6;

/// So many words before the place where a line stops fitting may have a slip that shows there.
const LAST_WORDS: usize = 3;

/// A line that cannot be read, and where it stops fitting.
#[derive(Clone, Copy)]
pub(super) struct Torn<'a> {
    line: &'a str,
    misfit: &'a Misfit,
    found: &'a str,
    /// The words of the language that would fit there.
    keywords: &'a [String],
}

impl<'a> Torn<'a> {
    pub(super) fn new((line, found): (&'a str, &'a str), misfit: &'a Misfit, keywords: &'a [String]) -> Self {
        Self { line: line[..comment(line)].trim_end(), misfit, found, keywords }
    }

    /// With words of the language for others, figures for words of numbers, and dates as the language has them.
    ///
    /// With the place and the text of the first word that is another.
    pub(super) fn reworded(self) -> Option<(usize, &'a str, String)> {
        let paired = self.paired();
        let dated = self.dated().map(|line| (self.misfit.at, self.found, line));
        let all = self.with_words(|_| true);
        let each = (0..WORDS.len()).filter_map(|at| self.with_words(|known| known == at));
        let mut lines =
            dated.into_iter().chain(paired).chain(all).chain(each).filter(|(.., line)| self.reads(line));
        lines.next().map(|(at, word, line)| (at, word, format!("write `{}`", tidy(&line))))
    }

    /// `befor apply`, `witin 5 days`: one of the last words before is one of the language with a slip, as what could stand in
    /// its place tells.
    pub(super) fn slipped(
        self,
        keywords: impl Fn(&Misfit) -> Vec<String>,
    ) -> Option<(usize, &'a str, String)> {
        let mut end = self.line.get(..self.misfit.at)?.trim_end().len();
        (0..LAST_WORDS).find_map(|_| {
            let before = self.line.get(..end)?;
            let word = before.split([' ', '\t', ',']).next_back()?;
            let at = before.len() - word.len();
            let (head, behind) = (self.line.get(..at)?, self.line.get(end..)?);
            end = head.trim_end().len();
            let plain = word.len() > 3 && word.chars().all(char::is_alphabetic) && !is_reserved(word);
            let expected = plain.then(|| parse_line(self.misfit.rule, &format!("{head}~"), 0).err())??;
            let line =
                [head, nearest(word, keywords(&expected).iter().map(String::as_str))?, behind].concat();
            self.reads(&line).then(|| (at, word, format!("write `{}`", tidy(&line))))
        })
    }

    /// `decide by contact angle at month 6`, `measure gloss 60°`: a name of two words is one with a hyphen.
    pub(super) fn one_name(self) -> Option<(String, String)> {
        let (before, rest) = self.line.split_at_checked(self.misfit.at)?;
        let before = before.trim_end();
        let (head, previous) = before.rsplit_once([' ', '\t', ','])?;
        // A number may have the sign of an angle behind it; what has a hyphen is a name by itself.
        let second = self.found.trim_end_matches(['°', 'º']);
        let figures = !second.is_empty() && second.bytes().all(|byte| byte.is_ascii_digit());
        let word = second == self.found && second.chars().all(char::is_alphabetic) && !is_reserved(second);
        let first =
            !head.trim().is_empty() && previous.starts_with(char::is_alphabetic) && !is_reserved(previous);
        // A name for print may follow, a step begins here, or a word of the language has a slip.
        let other = self.misfit.expected.contains(&"v_text")
            || STEPS.iter().any(|(step, _)| step.eq_ignore_ascii_case(second))
            || nearest(second, self.keywords.iter().map(String::as_str)).is_some();
        if other || !first || !(figures || word && !second.is_empty()) || self.line.len() > LONGEST {
            return None;
        }
        let behind = rest.get(self.found.len()..)?;
        let line = format!("{before}-{second}{behind}");
        // What reads with the second word left out as well is no name of two words.
        let alone = format!("{before}{behind}");
        let is_name = self.reads(&line) && (figures || !self.reads(&alone) || !behind.trim().is_empty());
        is_name.then(|| ("a name is one word".to_owned(), format!("write `{}`", tidy(&line))))
    }

    /// `baseline stain, darkening`: measures of a round without how often they are read.
    pub(super) fn uncounted(self) -> Option<(String, String)> {
        let mut line = self.line.to_owned();
        for _ in 0..MOST_READ {
            match parse_line(self.misfit.rule, &line, 0) {
                Ok(_) if line != self.line => {
                    let help =
                        format!("write `{}`, or how often in place of `once`, as `5 times`", tidy(&line));
                    return Some(("it is not said how often it is read".to_owned(), help));
                }
                Err(Misfit { at, expected, .. })
                    if expected.contains(&"c_times") || expected.contains(&"k_once") =>
                {
                    let (before, rest) = line.split_at_checked(at)?;
                    if !rest.is_empty() && !rest.starts_with(',') {
                        return None;
                    }
                    line = format!("{} once{rest}", before.trim_end());
                }
                _ => return None,
            }
        }
        None
    }

    /// With a word more, another word, or two that change their places: whatever reads.
    pub(super) fn patched(self) -> Option<String> {
        if self.line.len() > LONGEST {
            return None;
        }
        let (before, rest) = self.line.split_at_checked(self.misfit.at)?;
        let behind = rest.get(self.found.len()..)?;
        if self.found.is_empty() {
            let expected = |rule: &str| self.misfit.expected.contains(&rule);
            let endings = ENDINGS.iter().filter(|(rule, _)| expected(rule));
            return self.first(endings.map(|(_, ending)| format!("{} {ending}", before.trim_end())));
        }
        if !self.line.contains([' ', '\t']) {
            return None;
        }
        // Before a word of the language another one would only make a sentence of no sense.
        let apart = !is_reserved(self.found);
        let previous = before.split_whitespace().next_back().unwrap_or("");
        let lacking = self.keywords.iter().filter(|word| apart && *word != previous);
        let inserted = lacking.map(|word| format!("{before}{word} {rest}"));
        let inserted = self.some(inserted);
        if inserted.is_some() {
            return inserted;
        }
        let replaced = self.keywords.iter().map(|word| format!("{before}{word}{behind}"));
        self.some(replaced).or_else(|| {
            let others = [self.named(), self.joined(), self.counted(), self.clock(), self.without()];
            self.first(others.into_iter().flatten())
        })
    }

    fn first(self, lines: impl Iterator<Item = String>) -> Option<String> {
        let mut lines = lines.filter(|line| self.reads(line));
        lines.next().map(|line| format!("write `{}`", tidy(&line)))
    }

    /// One or two that read; of more nobody knows which is meant.
    fn some(self, lines: impl Iterator<Item = String>) -> Option<String> {
        let lines: Vec<String> =
            lines.filter(|line| self.reads(line)).map(|line| format!("`{}`", tidy(&line))).collect();
        (1..=2).contains(&lines.len()).then(|| format!("write {}", lines.join(" or ")))
    }

    fn reads(self, line: &str) -> bool {
        line != self.line && parse_line(self.misfit.rule, line, 0).is_ok()
    }

    fn with_words(self, chosen: impl Fn(usize) -> bool) -> Option<(usize, &'a str, String)> {
        // A place of a table is no statement: what its word means is told by its heading.
        if self.line.len() > LONGEST || !self.line.contains([' ', '\t']) {
            return None;
        }
        let mut changed = None;
        let mut quoted = false;
        let mut out = String::new();
        let mut from = 0;
        for piece in self.line.split_inclusive([' ', '\t', ',']) {
            let word = piece.trim_end_matches([' ', '\t', ',']);
            let at = WORDS.iter().position(|(known, _)| *known == word.to_lowercase());
            match at.filter(|&at| !quoted && chosen(at)) {
                Some(at) => {
                    changed = changed.or(Some((from, word)));
                    out.push_str(WORDS[at].1);
                }
                None => out.push_str(word),
            }
            out.push_str(&piece[word.len()..]);
            from += piece.len();
            quoted ^= piece.matches('"').count() % 2 == 1;
        }
        changed.map(|(at, word)| (at, word, out))
    }

    /// `over night`: two words that are one of [`WORDS`].
    fn paired(self) -> Option<(usize, &'a str, String)> {
        let (before, rest) = self.line.split_at_checked(self.misfit.at)?;
        let (joined, instead) = WORDS.iter().find(|(known, _)| {
            known.len() > 6 && rest.split_whitespace().take(2).collect::<String>().eq_ignore_ascii_case(known)
        })?;
        let left = joined.len().checked_sub(self.found.len())?;
        let behind = rest.split_once(self.found)?.1.trim_start().get(left..)?;
        Some((self.misfit.at, self.found, format!("{before}{instead}{behind}")))
    }

    /// `May 3 2027`, `3. Mai 2027`: a date in words.
    fn dated(self) -> Option<String> {
        if !self.misfit.expected.contains(&"v_date") {
            return None;
        }
        let (before, rest) = self.line.split_at_checked(self.misfit.at)?;
        let words: Vec<&str> = rest.split_whitespace().take(3).collect();
        let [year, month, day] = date(&words)?;
        let behind = rest.splitn(4, char::is_whitespace).nth(3).unwrap_or("");
        Some(format!("{before}{year:04}-{month:02}-{day:02} {behind}").trim_end().to_owned())
    }

    /// `product "Bay spray"`: the name for print without a name.
    fn named(self) -> Option<String> {
        let text = self.found.strip_prefix('"')?.strip_suffix('"')?;
        let name = text.to_lowercase().split_whitespace().collect::<Vec<_>>().join("-");
        let (before, rest) = self.line.split_at_checked(self.misfit.at)?;
        Some(format!("{before}{name} {rest}"))
    }

    /// `gloss 60`: a name of a word and a number.
    fn joined(self) -> Option<String> {
        let (before, rest) = self.line.split_at_checked(self.misfit.at)?;
        let before = before.trim_end();
        let (head, number) = before.rsplit_once([' ', '\t'])?;
        let is_number = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit());
        let named = is_number && head.split_whitespace().count() > 1;
        named.then(|| format!("{}-{number} {rest}", head.trim_end()))
    }

    /// `after 8 days`: what is counted stands before what it counts from; `after 6 months` behind a measure is a round.
    fn counted(self) -> Option<String> {
        let (before, rest) = self.line.split_once("after ")?;
        let mut words = rest.split_whitespace();
        let (number, unit) = (words.next()?, words.next()?);
        let behind = words.collect::<Vec<_>>().join(" ");
        let one = unit.trim_end_matches('s');
        let lines = [
            format!("{before}{number} {unit} after apply {behind}"),
            format!("{before}at {one} {number} {behind}"),
        ];
        lines.into_iter().map(|line| line.trim_end().to_owned()).find(|line| self.reads(line))
    }

    /// `A1; B2`, `2 x`: a sign too many.
    fn without(self) -> Option<String> {
        let sign =
            self.found.chars().all(|c| c.is_ascii_punctuation()) || self.found.eq_ignore_ascii_case("x");
        let (before, rest) = self.line.split_at_checked(self.misfit.at)?;
        sign.then(|| format!("{before}{}", rest.replace(self.found, " ")))
    }

    /// `09.10`, `9 am`: a time of day.
    fn clock(self) -> Option<String> {
        let (before, rest) = self.line.split_at_checked(self.misfit.at)?;
        let behind = rest.get(self.found.len()..)?;
        if let Some((hours, minutes)) = self.found.split_once('.') {
            return Some(format!("{before}{hours}:{minutes}{behind}"));
        }
        let hours: u32 = self.found.parse().ok().filter(|hours| (1..=12).contains(hours))?;
        let half = behind.split_whitespace().next()?;
        let later = match half.to_lowercase().replace('.', "").as_str() {
            "am" => 0,
            "pm" => 12,
            _ => return None,
        };
        let (_, behind) = behind.split_once(half)?;
        Some(format!("{before}{:02}:00{behind}", hours % 12 + later))
    }
}

/// Year, month and day of three words.
fn date(words: &[&str]) -> Option<[u32; 3]> {
    let (mut year, mut month, mut day) = (None, None, None);
    for word in words {
        let word = word.trim_matches(['.', ',']).to_lowercase();
        let figures = word.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        let start: String = word.chars().take(3).collect();
        let named = MONTHS.iter().position(|(english, german)| start == *english || start == *german);
        match (named, figures.parse::<u32>()) {
            (Some(at), _) => month = u32::try_from(at + 1).ok(),
            (None, Ok(number)) if figures.len() == 4 => year = Some(number),
            (None, Ok(number)) if (1..=31).contains(&number) => day = Some(number),
            _ => return None,
        }
    }
    Some([year?, month?, day?])
}

/// A statement with one blank between its words; what stands in quotes stays.
fn tidy(line: &str) -> String {
    if line.contains('"') {
        return line.trim_end().to_owned();
    }
    line.split_whitespace().collect::<Vec<_>>().join(" ")
}
