//! Slips that deserve a sentence of their own: what is wrong with a line, and what to write instead.

use super::blocks::{BlockRule, STEPS, SYNONYMS};
use super::characters::comment;
use super::firsts::{self, Told, time_word};
use super::incidents;
use super::parser::{Misfit, is_reserved, parse_line};

/// What is known of a line besides its text.
#[derive(Debug, Clone, Copy)]
pub(super) struct Hint<'a> {
    /// Its first word, or the heading of its column in a table.
    pub(super) word: &'a str,
    /// The unit of the block that it stands under, or of its column.
    pub(super) unit: Option<&'a str>,
}

/// A line, and where it stops fitting.
pub(super) struct Slip<'a> {
    line: &'a str,
    misfit: &'a Misfit,
    found: &'a str,
    before: &'a str,
    previous: &'a str,
    block: &'a BlockRule,
    hint: Hint<'a>,
}

impl<'a> Slip<'a> {
    /// The line stops fitting at the word `found`.
    pub(super) fn new(
        line: &'a str,
        misfit: &'a Misfit,
        found: &'a str,
        block: &'a BlockRule,
        hint: Hint<'a>,
    ) -> Self {
        let before = line.get(..misfit.at).unwrap_or("").trim_end();
        let previous = before.rsplit([' ', '\t', ',']).next().unwrap_or("");
        let line = line[..comment(line)].trim_end();
        Self { line, misfit, found, before, previous, block, hint }
    }

    /// The sentence for the first slip that this is.
    pub(super) fn told(&self) -> Told {
        self.round()
            .or_else(|| self.log())
            .or_else(|| self.tape_off())
            .or_else(|| self.corner())
            .or_else(|| self.price())
            .or_else(|| self.currency_first())
            .or_else(|| self.range())
            .or_else(|| self.climate())
            .or_else(|| self.unit())
            .or_else(|| self.name())
            .or_else(|| self.and())
            .or_else(|| self.text())
            .or_else(|| self.statement())
            .or_else(|| self.synonym())
            .or_else(|| self.upkeep())
    }

    /// What is looked at before a word is put in or two are joined.
    pub(super) fn first_told(&self) -> Told {
        let is_head = self.hint.word == self.block.word;
        match (self.block.word, self.hint.word) {
            ("language", _) => self.language(),
            ("measure", "measure") if is_head => {
                let mut words = self.line.splitn(3, [' ', '\t']);
                let (name, rest) = (words.nth(1)?.trim_end_matches([',', ':']), words.next()?);
                firsts::rating(name, rest)
            }
            ("measure", "spent") if self.hint.unit == Some(MARKS) => {
                let number = self.line.split_whitespace().find(|word| word.parse::<f64>().is_ok())?;
                Some(("a rating is spent at a mark".into(), format!("write `spent at {number} or worse`")))
            }
            ("rounds", word) if is_reserved(word) && self.block.child(word).is_none() => Some((
                "a round begins with its name".into(),
                "put a name of one word before it, as `cured 8 days after apply gloss-60 5 times`".into(),
            )),
            ("rounds", _) => firsts::rounds(self.line),
            (_, "mix") => firsts::mix(self.line),
            ("measure", "spent") => firsts::spent(self.line),
            (_, "uses") => firsts::reach(self.line),
            _ => {
                let line = firsts::in_one_unit(self.line)?;
                let rule = self.block.child(self.hint.word)?;
                parse_line(rule, &line, 0).ok()?;
                Some(("a time has one unit".into(), format!("write `{line}`")))
            }
        }
    }

    /// `language german` at the margin, where the version of the language stands.
    fn language(&self) -> Told {
        let word = self.found.to_lowercase();
        let word = match word.as_str() {
            "deutsch" | "de" => "german",
            "englisch" | "en" => "english",
            other => other,
        };
        ["german", "english"].contains(&word).then(|| {
            (
                "this line is the version of the language that a study is written in, a number".into(),
                format!("the language of the report goes below `study`: put blanks before it there, `language {word}`"),
            )
        })
    }

    fn expects(&self, rule: &str) -> bool {
        self.misfit.expected.contains(&rule)
    }

    fn price(&self) -> Told {
        let sign = self.found.chars().next().unwrap_or(' ');
        if matches!(sign, '€' | '$' | '£' | '¥') {
            let amount = self.found.trim_start_matches(['€', '$', '£', '¥']);
            let code = match sign {
                '€' => "EUR",
                '£' => "GBP",
                '¥' => "JPY",
                _ => "USD",
            };
            // With a blank behind the sign the amount is the next word.
            let next = || {
                let rest = self.line.get(self.misfit.at + self.found.len()..)?.split_whitespace().next()?;
                rest.starts_with(|c: char| c.is_ascii_digit()).then_some(rest)
            };
            let amount = if amount.is_empty() { next().unwrap_or("42.00") } else { amount };
            return Some((
                "a price is written with the letters of its currency".into(),
                format!("write `{amount} {code}`"),
            ));
        }
        let without_amount = self.found.is_empty() && self.expects("k_for") && self.block.word == "product";
        without_amount.then(|| {
            (
                "the price does not say for how much of the product".into(),
                "end it with the amount that was bought, as `20.00 EUR for 500 ml`".into(),
            )
        })
    }

    /// Where the bare number stands that a message is about; the caret belongs under it and not under the word behind it.
    pub(super) fn bare_number(&self, message: &str) -> Option<(usize, &'a str)> {
        let lacks = message.ends_with("has no unit") || message.ends_with("has no currency");
        lacks.then(|| (self.before.len() - self.previous.len(), self.previous))
    }

    /// `tape off 1 h`: a time alone, where a range or what it counts from should follow.
    fn tape_off(&self) -> Told {
        let is_alone = self.found.is_empty() && self.expects("k_after") && self.line.starts_with("tape off");
        is_alone.then(|| {
            let written = self.line.trim_end();
            ("the line does not say after what".into(), format!("write `{written} after last coat`"))
        })
    }

    /// Two numbers in place of two distances, as in `from x 185 y 125` or `from 185, 125`.
    fn corner(&self) -> Told {
        if !self.expects("v_edge") {
            return None;
        }
        let from = self.before.rfind("from")? + "from".len();
        let written = self.line.get(from..)?.split("size").next()?;
        let mut words = written.split([' ', '\t', ',', ';', '=', ':']).filter(|word| !word.is_empty());
        let numbers: Vec<&str> = words
            .clone()
            .map(|word| word.trim_end_matches(|c: char| c.is_ascii_alphabetic()))
            .filter(|word| word.parse::<f64>().is_ok())
            .collect();
        let &[across, down] = numbers.as_slice() else { return None };
        let side = if words.any(|word| word == "right") { "right" } else { "left" };
        let top = if written.contains("bottom") { "bottom" } else { "top" };
        let behind = written.split_once(across)?.1.trim_start();
        let unit = ["mm", "cm", "m", "inch", "in", "ft"].into_iter().find(|unit| {
            behind.strip_prefix(unit).is_some_and(|rest| !rest.starts_with(|c: char| c.is_ascii_alphabetic()))
        });
        let unit = unit.map_or("mm", |unit| if unit == "in" { "inch" } else { unit });
        // From where to where along one edge is no place and no size.
        if written.contains(" to ") {
            return Some((
                "a shape has a place and a size".into(),
                format!(
                    "say where it begins and how large it is, as `from {side} {across} {unit}, {top} 0 {unit}  size 1 x 1 {unit}`"
                ),
            ));
        }
        Some((
            format!("`{}` does not fit here", self.found),
            format!("say from which edges, as `from {side} {across} {unit}, {top} {down} {unit}`"),
        ))
    }

    /// `EUR 20 for 500 ml`: an amount stands before its currency.
    fn currency_first(&self) -> Told {
        if !["bought", "price"].contains(&self.hint.word) || !self.expects("v_number") {
            return None;
        }
        let letters = self.found.bytes().take_while(u8::is_ascii_alphabetic).count();
        let rest = self.line.get(self.misfit.at + letters..)?.trim_start();
        let figures = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').len();
        let (amount, behind) = rest.split_at(figures);
        (letters == 3 && !amount.is_empty()).then(|| {
            let code = self.found[..letters].to_uppercase();
            ("an amount stands before its currency".into(), format!("write `{amount} {code}{behind}`"))
        })
    }

    /// The word that somebody wrote in place of `to`, as in `2 too 4 min`, and where in the line it begins.
    pub(super) fn instead_of_to(&self) -> Option<(usize, &'a str)> {
        const WORDS: &[&str] = &["too", "tu", "ot", "til", "till", "until", "thru", "through", "upto"];
        let word = self.previous;
        let is_range = self.expects("k_to")
            && self.found.starts_with(|c: char| c.is_ascii_digit())
            && WORDS.iter().any(|known| known.eq_ignore_ascii_case(word));
        is_range.then(|| (self.before.len() - word.len(), word))
    }

    fn range(&self) -> Told {
        let (at, word) = self.instead_of_to()?;
        let low = self.line.get(..at)?.split_whitespace().next_back()?;
        let high = self.line.get(self.misfit.at..)?.split(',').next()?.trim_end();
        Some((format!("`{word}` is not the word of a range"), format!("write `{low} to {high}`")))
    }

    /// `temp 20C` in a record: the climate is said with `at`.
    fn climate(&self) -> Told {
        let found = self.found.trim_end_matches([':', '=', '.']);
        let is_temperature = ["temp", "temperature"].contains(&found.to_lowercase().as_str());
        if self.block.word != "done" || !is_temperature {
            return None;
        }
        let rest =
            self.line.get(self.misfit.at + self.found.len()..)?.trim_start_matches([' ', '\t', ':', '=']);
        let figures = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').len();
        let (number, unit) = rest.split_at(figures);
        let unit = unit.split([' ', '\t', ',']).find(|word| !word.is_empty()).unwrap_or("");
        let unit = if unit.to_lowercase().ends_with('f') { "degF" } else { "degC" };
        let number = if number.is_empty() { "20" } else { number };
        let first =
            if self.expects("k_at") { "" } else { "say what was done, as `coat 1 of bay`, and then " };
        Some((
            format!("`{found}` is not a word of the language"),
            format!("{first}write `at {number} {unit}`"),
        ))
    }

    fn unit(&self) -> Told {
        let (found, previous) = (self.found, self.previous);
        if found.eq_ignore_ascii_case("per") && self.hint.word == "mix" {
            return Some(("a mix is told in parts".into(), "write it as `1 part to 200 water`".into()));
        }
        if found.eq_ignore_ascii_case("per") && previous.starts_with(char::is_alphabetic) {
            let number =
                self.before.split_whitespace().rev().nth(1).filter(|word| word.parse::<f64>().is_ok());
            let number = number.unwrap_or("25");
            return Some((
                format!("there is no unit `{previous} per ...` of that kind"),
                format!("write the amount on an area, as `{number} {previous} per m2`"),
            ));
        }
        if found.eq_ignore_ascii_case("in") && previous.parse::<f64>().is_ok() {
            return Some((
                "`in` is not a unit here, since it belongs to `in GU`".into(),
                format!("write `{previous} inch`"),
            ));
        }
        let is_number = previous.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit());
        if !self.expects("v_unit") || !is_number {
            return None;
        }
        let Some(unit) = self.wanted_unit() else {
            return Some((
                format!("`{previous}` has no unit"),
                format!("write the unit after the number, as in `{previous} mm` or `{previous} min`"),
            ));
        };
        let what = if unit == "EUR" { "currency" } else { "unit" };
        // In a table the place has no word before it, and the heading may give the unit for all.
        let heading = if self.line.starts_with(|c: char| c.is_ascii_digit()) && unit != "EUR" {
            format!(", or once in the heading: `{} in {unit}`", self.hint.word)
        } else {
            String::new()
        };
        Some((
            format!("`{previous}` has no {what}"),
            format!("write the {what} after the number, as in `{previous} {unit}`{heading}"),
        ))
    }

    /// The unit that a number at this place usually has: by the last word before it that says so.
    fn wanted_unit(&self) -> Option<&str> {
        let words = self.before.split([' ', '\t', ',', ':']).filter(|word| !word.is_empty());
        let mut words: Vec<String> = words.map(str::to_lowercase).collect();
        words.insert(0, self.hint.word.to_lowercase());
        let own = self.hint.unit.unwrap_or("GU");
        let by_word = words.iter().rev().find_map(|word| unit_after(self.block.word, word, own));
        by_word.or(match self.block.word {
            "rounds" => Some("days"),
            "upkeep" => Some("weeks"),
            "readings" => Some("GU"),
            _ => None,
        })
    }

    fn name(&self) -> Told {
        let found = self.found;
        let wants_name = self.expects("v_name") || self.expects("v_supply");
        let wants_place = self.expects("v_section") || self.expects("v_cell");
        if wants_name && self.block.word == "exposure" && self.hint.word == "faces" {
            return Some((
                "a panel faces a direction of the compass".into(),
                "write it as a word, as `faces south` or `faces north-east`".into(),
            ));
        }
        let figures = found.len() - found.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        if figures > 0 && (wants_name || wants_place) {
            let (number, rest) = found.split_at(figures);
            let name: String = rest
                .trim_start_matches(['-', '_'])
                .chars()
                .take_while(|c| c.is_alphanumeric() || matches!(c, '-' | '_'))
                .collect();
            let section = self.expects("v_section");
            if name.starts_with(char::is_alphabetic) {
                let joint = if section { "" } else { "-" };
                return Some((
                    "a name begins with a letter".into(),
                    format!("write `{name}{joint}{number}`, or another name that begins with a letter"),
                ));
            }
            if rest.is_empty() && wants_name && self.before.split_whitespace().count() == 1 {
                return Some((
                    "a name begins with a letter".into(),
                    format!(
                        "write `{}-{number}`, or another name that begins with a letter",
                        self.block.word
                    ),
                ));
            }
        }
        if wants_name && is_reserved(found) {
            return Some((
                format!("`{found}` is a word of the language and cannot be a name"),
                format!("choose another name, as `{found}-1`, and put the name for print in quotes"),
            ));
        }
        self.name_of_two_words()
    }

    /// `product my wax, a wax`, `measure gloss 20 in GU`: what stands behind the name in the head of a block.
    fn name_of_two_words(&self) -> Told {
        let (found, previous) = (self.found, self.previous);
        let second = self.before.split_whitespace().count() == 2;
        let named = previous.starts_with(char::is_alphabetic) && !is_reserved(previous);
        let message = || "a name is one word".to_owned();
        if second && self.expects("v_text") && found.starts_with(char::is_alphabetic) {
            let rest = self.line.get(self.misfit.at..).unwrap_or(found);
            let ends = [rest.find([',', '"']), rest.find(" a "), rest.find(" an ")];
            let rest = rest[..ends.into_iter().flatten().min().unwrap_or(rest.len())].trim_end();
            let joined = rest.split_whitespace().collect::<Vec<_>>().join("-");
            return Some((
                message(),
                format!(
                    "write `{previous}-{joined}`, or the name for print in quotes: `{previous} \"{rest}\"`"
                ),
            ));
        }
        let is_head = self.hint.word == self.block.word;
        let is_number = !found.is_empty() && found.bytes().all(|byte| byte.is_ascii_digit());
        (second && named && is_head && is_number).then(|| (message(), format!("write `{previous}-{found}`")))
    }

    /// `with soap and rinse`: what a step says is parted by commas.
    fn and(&self) -> Told {
        if !self.found.eq_ignore_ascii_case("and") {
            return None;
        }
        let rest = self.line.get(self.misfit.at + self.found.len()..)?.trim_start();
        let next = rest.split([' ', '\t', ',']).next().unwrap_or("").to_lowercase();
        let is_step = STEPS.iter().any(|(step, _)| *step == next);
        let clauses = ["rinse", "wait", "for", "tool", "twice", "once", "fresh", "with", "neat", "mix"];
        if !clauses.contains(&next.as_str()) {
            return (is_step && self.block.word == "prep").then(|| {
                (format!("`{next}` is a step of its own"), format!("put `{rest}` on the next line"))
            });
        }
        Some((
            "what a step says is parted by commas, not by `and`".into(),
            format!("write `{}, {rest}`", self.before.split_whitespace().collect::<Vec<_>>().join(" ")),
        ))
    }

    fn text(&self) -> Told {
        let found = self.found;
        if !self.expects("v_text")
            || !found.starts_with(char::is_alphabetic)
            || self.block.child(&found.to_lowercase()).is_some()
        {
            return None;
        }
        let rest = self.line.get(self.misfit.at..).unwrap_or("");
        let text = rest.split([',', '"']).next().unwrap_or("").trim_end();
        Some(("a text stands in quotes".into(), format!("write `\"{text}\"`")))
    }

    fn statement(&self) -> Told {
        let found = self.found;
        if found.starts_with(|c: char| c.is_ascii_digit()) {
            return None;
        }
        self.block.child(&found.to_lowercase())?;
        // `section 185 x 125 mm` in the head of the map lacks a letter of a word that fits there.
        let plural = format!("{}s", found.to_lowercase());
        let expected = self.misfit.expected.iter();
        let mut words =
            expected.filter_map(|rule| rule.strip_prefix("c_").or_else(|| rule.strip_prefix("k_")));
        if words.any(|word| word == plural) {
            return Some((format!("`{found}` does not fit here"), format!("did you mean `{plural}`?")));
        }
        Some((format!("`{found}` begins a statement of its own"), format!("put `{found}` on the next line")))
    }

    /// The trade's word is offered only where it would fit.
    fn synonym(&self) -> Told {
        let found = self.found;
        let (_, instead) = SYNONYMS.iter().find(|(word, _)| word.eq_ignore_ascii_case(found))?;
        let fits = self.misfit.expected.iter().any(|rule| rule.strip_prefix("k_") == Some(instead))
            || STEPS.iter().any(|(step, _)| step == instead) && self.expects("v_step");
        fits.then(|| (format!("`{found}` is not a word of the language"), format!("write `{instead}`")))
    }

    /// A round that is named by a time in another way than `month 3`.
    fn round(&self) -> Told {
        if self.block.word != "rounds" {
            return None;
        }
        let mut words = self.line.split([' ', '\t', ',', ':']).filter(|word| !word.is_empty());
        let (first, second) = (words.next()?, words.next().unwrap_or(""));
        if ["each", "jede"].contains(&first.to_lowercase().as_str()) {
            let rest = self.line.split_whitespace().skip(2).collect::<Vec<_>>().join(" ");
            return Some((
                "what all rounds read begins with `every`".into(),
                format!("write `every round {rest}`"),
            ));
        }
        let figures = first.len() - first.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').len();
        let (number, joined) = first.split_at(figures);
        let turned = if joined.is_empty() { second } else { joined };
        if let (false, Some(word)) = (number.is_empty(), time_word(turned)) {
            let (_, rest) = self.line.split_once(turned)?;
            let rest = rest.trim_start_matches([' ', '\t', ',']);
            let name = whole_round(word, number)?;
            return Some((
                "a round begins with its name".into(),
                format!("write `{}`", format!("{name}  {rest}").trim_end()),
            ));
        }
        if self.found.eq_ignore_ascii_case("before") && time_word(self.previous).is_some() {
            return Some((
                "rounds are counted after something, not before it".into(),
                format!(
                    "write `{} after apply` if that is meant, or its day: `{first} on 2026-03-01`",
                    self.before.split_whitespace().collect::<Vec<_>>().join(" ")
                ),
            ));
        }
        let word = time_word(first)?;
        if let Some(at) = COUNTED.iter().position(|counted| counted.eq_ignore_ascii_case(second)) {
            return Some((
                "the number of a round is written in figures".into(),
                format!("write `{word} {}`", at + 1),
            ));
        }
        let parts = self.found.trim_start_matches(['.', ',']);
        let after = self.before.split_whitespace().nth(1).unwrap_or("");
        let is_part = self.found.len() > parts.len() && self.before.split_whitespace().count() == 2;
        let number = format!("{after}.{parts}");
        let name = if is_part { whole_round(word, &number) } else { None }?;
        Some((
            "a round that is named by its time has a whole number".into(),
            format!("write `{name}`, or a name of your own and `{number} {word}s after apply`"),
        ))
    }

    fn log(&self) -> Told {
        let is_log = self.block.word == "log";
        is_log.then(|| incidents::told(self.line, self.before, self.found, self.misfit.rule)).flatten()
    }

    /// Any other slip in a line of upkeep is mostly one of order.
    fn upkeep(&self) -> Told {
        if self.block.word != "upkeep" || self.hint.word != "every" || self.found.is_empty() {
            return None;
        }
        let mut words = self.line.split_whitespace().skip(1);
        if let (Some(number), Some(step)) = (words.next(), words.next())
            && number.parse::<f64>().is_ok()
            && STEPS.iter().any(|(known, _)| step.eq_ignore_ascii_case(known))
        {
            let help = format!("write the unit after the number, as in `{number} weeks`");
            return Some((format!("`{number}` has no unit"), help));
        }
        Some((
            format!("`{}` does not fit here", self.found),
            "the order is: how often, what, since when, as `every 2 weeks wash with soap, rinse, from 14 days after \
             apply`"
                .into(),
        ))
    }
}

/// The unit of a number that follows a word under a block; `own` is that of the measure.
fn unit_after<'u>(block: &str, word: &str, own: &'u str) -> Option<&'u str> {
    Some(match (block, word) {
        ("surface", "film" | "leave" | "least") => "um",
        ("measure", "within" | "from" | "below" | "above") | ("gauge", "within" | "spread" | "tile") => own,
        ("gauge", "for") => "months",
        ("product", "bought" | "price") => "EUR",
        ("product", "for") | ("done", "used") => "ml",
        ("product", "dry" | "after" | "coats") | ("prep", "dry") => "h",
        ("product", "cure") | ("rounds", "within") | ("upkeep", "from") => "days",
        ("upkeep", "every") => "weeks",
        ("apply", "air" | "below" | "least") | ("done", "at") => "degC",
        ("prep" | "rounds" | "upkeep", "for") | (_, "flash" | "dwell" | "wait") => "min",
        ("prep" | "upkeep", "with") | (_, "strength" | "mix") => "% by volume",
        (_, "uses") => "ml per m2",
        (_, "tilt") => "deg",
        (_, word) if LENGTHS.contains(&word) => "mm",
        _ => return None,
    })
}

/// The unit of a rating, as a hint has it.
pub(super) const MARKS: &str = "marks";

/// Words that a length follows, in any block.
const LENGTHS: &[&str] = &[
    "size", "gap", "across", "left", "right", "top", "bottom", "spot", "foot", "round", "sections",
    "corners", "lines",
];

/// Numbers that people write as words.
const COUNTED: &[&str] =
    &["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/// The name of a round at so many days, weeks, months or years, which need not be whole.
fn whole_round(word: &str, number: &str) -> Option<String> {
    let number: f64 = number.parse().ok().filter(|number: &f64| number.is_finite() && *number < 1e5)?;
    let days = match word {
        "day" => 1.0,
        "week" => 7.0,
        // The mean Gregorian month.
        "month" => 30.436_875,
        _ => 365.2425,
    };
    Some(if number.fract() == 0.0 {
        format!("{word} {number}")
    } else if word == "year" && (number * 12.0).fract() == 0.0 {
        format!("month {}", number * 12.0)
    } else {
        format!("day {}", (number * days).round())
    })
}

/// How a line of upkeep is written that begins with what is done.
pub(super) fn upkeep(line: &str) -> String {
    let code = line[..comment(line)].trim_end();
    let words: Vec<&str> = code.split_whitespace().collect();
    let often = words.iter().position(|word| word.eq_ignore_ascii_case("every"));
    if let Some(at) = often.filter(|at| words.len() > at + 2) {
        let (often, what) = (&words[at..at + 3], [&words[..at], &words[at + 3..]].concat());
        let often = often.join(" ");
        return format!("begin with how often: `{}  {}`", often.trim_end_matches(','), what.join(" "));
    }
    for (word, often) in [
        ("daily", "every 1 day"),
        ("weekly", "every 1 week"),
        ("monthly", "every 1 month"),
        ("yearly", "every 1 year"),
    ] {
        let said = |one: &&str| one.trim_matches([',', ':']).eq_ignore_ascii_case(word);
        if let Some(at) = words.iter().position(said) {
            let what = [&words[..at], &words[at + 1..]].concat().join(" ");
            return format!("write `{often}  {}`", what.trim_end_matches(','));
        }
    }
    match words.first().filter(|first| STEPS.iter().any(|(step, _)| step.eq_ignore_ascii_case(first))) {
        Some(_) => format!("begin with how often, as `every 2 weeks  {code}`"),
        None => "write `every 2 weeks wash with soap, rinse`, or `none because \"...\"`".to_owned(),
    }
}
