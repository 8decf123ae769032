//! Builds the tree line by line, and goes on after whatever is broken.

use super::access::Clauses;
use super::astray;
use super::blocks::{self, BLOCKS, BlockRule, PLANNED, SYNONYMS};
use super::characters::{Odd, comment, empty_text, first_odd, with_plain_blanks};
use super::lines::{Line, LineKind, cut};
use super::parser::{Rule, is_reserved, parse_line};
use super::products;
use super::slips::{self, Hint};
use super::tree::{Block, BlockKind, Statement, Tree, Value};
use super::words;
use crate::diag::{Finding, nearest};
use crate::text::{Located, Span};

/// Parses a study file. There is always a tree; what could not be read is in the findings.
pub fn parse(text: &str) -> (Tree, Vec<Finding>) {
    let text = with_plain_blanks(text);
    let mut builder = Builder {
        lines: cut(&text).collect(),
        tree: Tree::default(),
        findings: Vec::new(),
        open: Open::Nothing,
        told_indent: false,
    };
    for at in 0..builder.lines.len() {
        let line = builder.lines[at];
        match line.kind {
            LineKind::Blank => {}
            LineKind::Prose => builder.prose(line),
            LineKind::Statement => builder.statement(at, line),
        }
    }
    products::expand(&mut builder.tree, &mut builder.findings);
    (builder.tree, builder.findings)
}

/// What the next indented line belongs to.
#[derive(Clone, Copy)]
enum Open {
    /// No head has been read yet.
    Nothing,
    /// A block of the tree, by its rule.
    Block(&'static BlockRule),
    /// Lines under a head that nobody knows, or that is planned; they are passed over.
    Skipped,
}

/// Whether the lines of a block all say something of its head.
fn is_one_thing(kind: BlockKind) -> bool {
    use BlockKind::{Apply, Benchmark, Exposure, Gauge, Measure, Product, Specimens, Study, Supply, Surface};
    matches!(
        kind,
        Study | Surface | Specimens | Gauge | Measure | Supply | Product | Benchmark | Apply | Exposure
    )
}

struct Builder<'s> {
    lines: Vec<Line<'s>>,
    tree: Tree,
    findings: Vec<Finding>,
    open: Open,
    /// True where a line of the open block was already told to be indented: one slip of the editor is one finding.
    told_indent: bool,
}

impl<'s> Builder<'s> {
    fn prose(&mut self, line: Line<'s>) {
        let words = line.text.trim_start_matches('>');
        let words = words.strip_prefix(' ').unwrap_or(words);
        // The lines of one thing are about that thing; steps, rounds and rows are things themselves.
        let last = self.tree.blocks.last_mut().and_then(|block| {
            let child = block.children.last_mut();
            if is_one_thing(block.kind) {
                block.head.as_mut().or(child)
            } else {
                child.or(block.head.as_mut())
            }
        });
        match (last, self.open) {
            (_, Open::Skipped) => {}
            (Some(statement), _) => {
                statement.prose.push_str(words);
                statement.prose.push('\n');
            }
            (None, _) => self.findings.push(
                Finding::error("prose-without-statement", whole(line), "this text belongs to no statement")
                    .help("put it below the line that it explains, as below `study \"...\"`"),
            ),
        }
    }

    fn statement(&mut self, at: usize, line: Line<'s>) {
        let word = first_word(line.text).to_lowercase();
        if line.indented { self.indented(at, line, &word) } else { self.at_margin(at, line, &word) }
    }

    fn at_margin(&mut self, at: usize, line: Line<'s>, word: &str) {
        let head = blocks::block(word);
        if let Open::Block(rule) = self.open
            && belongs_below(rule, head, line, word)
        {
            self.not_indented(rule, line, word);
            return self.child(rule, line, word);
        }
        if let Some(rule) = head {
            return self.open_head(rule, line);
        }
        if PLANNED.contains(&word) {
            self.not_yet(line, word);
            self.open = Open::Skipped;
            return;
        }
        self.unknown_head(at, line, word);
    }

    fn not_indented(&mut self, rule: &BlockRule, line: Line<'s>, word: &str) {
        if !std::mem::replace(&mut self.told_indent, true) {
            let message = format!("`{word}` belongs under `{}`", rule.word);
            let help = format!("put blanks before it, and before every other line under `{}`", rule.word);
            self.findings.push(Finding::error("not-indented", word_span(line), message).help(help));
        }
    }

    fn unknown_head(&mut self, at: usize, line: Line<'s>, word: &str) {
        let near = nearest(word, BLOCKS.iter().map(|block| block.word));
        let guess =
            synonyms(word).find(|word| blocks::block(word).is_some()).or(near).and_then(blocks::block);
        let voted = guess.or_else(|| self.vote(at));
        let mut finding = Finding::error(
            "unknown-word",
            word_span(line),
            format!("`{}` opens no block", clipped(first_word(line.text))),
        );
        finding = match (guess, voted) {
            (Some(rule), _) => finding.help(format!("did you mean `{}`?", rule.word)),
            (None, Some(rule)) => finding.help(format!("the lines below it belong under `{}`", rule.word)),
            (None, None) => finding.help(
                "a block begins with a word such as `study`, `surface`, `product`, `prep`, `map` or `rounds`",
            ),
        };
        self.findings.push(finding);
        match voted {
            Some(rule) => self.open_guessed(rule, line),
            None => self.open = Open::Skipped,
        }
    }

    // The word was wrong, but the rest of the head may be right: it then still defines its name.
    fn open_guessed(&mut self, rule: &'static BlockRule, line: Line<'s>) {
        let code = &line.text[..comment(line.text)];
        let head = parse_line(rule.head, line.text, line.start)
            .ok()
            .map(|head| Statement { verb: rule.word.into(), ..head });
        let salvaged = if head.is_none() { salvage(code, line.start) } else { None };
        self.push_block(rule, head, salvaged, line);
        self.mark_guessed();
    }

    /// The block whose words the lines below a head use, if only one fits.
    fn vote(&self, at: usize) -> Option<&'static BlockRule> {
        let below =
            self.lines[at + 1..].iter().take_while(|line| line.indented || line.kind != LineKind::Statement);
        let mut owners = below
            .filter(|line| line.kind == LineKind::Statement)
            .filter_map(|line| blocks::sole_owner(&first_word(line.text).to_lowercase()));
        let first = owners.next()?;
        owners.all(|owner| owner.word == first.word).then_some(first)
    }

    fn indented(&mut self, at: usize, line: Line<'s>, word: &str) {
        match self.open {
            Open::Skipped if blocks::block(word).is_none() => {}
            Open::Block(rule) if rule.child(word).is_some() => self.child(rule, line, word),
            Open::Block(rule) if rule.planned.contains(&word) => {
                self.not_yet(line, word);
                self.mark_broken();
            }
            Open::Block(rule) if astray::is_meant(rule, line, word) => self.unknown_child(rule, line, word),
            _ if blocks::block(word).is_some_and(|head| parse_line(head.head, line.text, 0).is_ok()) => {
                self.head_indented(line, word);
            }
            Open::Block(rule) => match blocks::sole_owner(word).filter(|owner| self.starts_run(at, owner)) {
                Some(owner) if rule.otherwise.is_none() => self.head_missing(owner, line, word),
                _ => self.child(rule, line, word),
            },
            Open::Nothing | Open::Skipped => {
                if let Some(owner) = blocks::sole_owner(word) {
                    self.head_missing(owner, line, word);
                } else {
                    let message = "this line is indented, but no block is open above it";
                    self.findings.push(
                        Finding::error("head-missing", whole(line), message)
                            .help("begin the file with `study \"...\"` at the left margin"),
                    );
                    self.open = Open::Skipped;
                }
            }
        }
    }

    /// A head is missing only where the whole run of lines belongs to another block; one stray line is a slip.
    fn starts_run(&self, at: usize, owner: &BlockRule) -> bool {
        let mut run = self.lines[at..]
            .iter()
            .filter(|line| line.kind == LineKind::Statement)
            .take_while(|line| line.indented)
            .take(3);
        let mut count = 0;
        run.all(|line| {
            count += 1;
            owner.child(&first_word(line.text).to_lowercase()).is_some()
        }) && count > 1
    }

    fn head_indented(&mut self, line: Line<'s>, word: &str) {
        self.findings.push(
            Finding::error("not-at-margin", word_span(line), format!("`{word}` opens a block"))
                .help("start it at the left margin, without blanks before it"),
        );
        if let Some(rule) = blocks::block(word) {
            self.open_head(rule, line);
        }
    }

    fn head_missing(&mut self, owner: &'static BlockRule, line: Line<'s>, word: &str) {
        self.findings.push(
            Finding::error(
                "head-missing",
                word_span(line),
                format!("`{word}` belongs under `{}`", owner.word),
            )
            .help(format!("is a line `{}` missing above it?", owner.word)),
        );
        self.push_block(owner, None, None, line);
        self.mark_guessed();
        self.child(owner, line, word);
    }

    fn open_head(&mut self, rule: &'static BlockRule, line: Line<'s>) {
        if let Some(odd) = first_odd(line.text) {
            self.odd(line, &odd);
            let salvaged = salvage(line.text, line.start);
            self.push_block(rule, None, salvaged, line);
            self.mark_broken();
            return;
        }
        self.empty_text(line);
        match parse_line(rule.head, line.text, line.start) {
            Ok(head) => {
                let scale = astray::scale_for_unit(rule, &head);
                self.push_block(rule, Some(head), None, line);
                if let Some(finding) = scale {
                    self.findings.push(finding);
                    self.mark_broken();
                }
            }
            Err(misfit) => {
                let hint = Hint { word: rule.word, unit: None };
                self.findings.push(words::misfit((line.text, line.start), rule, &misfit, hint));
                let code = &line.text[..comment(line.text)];
                self.push_block(rule, None, salvage(code, line.start), line);
                self.mark_broken();
            }
        }
    }

    // A text that says nothing would stand for a name, a data sheet or a reason.
    fn empty_text(&mut self, line: Line<'s>) {
        if let Some((at, len)) = empty_text(line.text) {
            let span = Span::new(line.start + at, line.start + at + len);
            self.findings.push(
                Finding::error("empty-text", span, "nothing stands between these quotes")
                    .help("write what belongs there, or take the word out that it belongs to"),
            );
        }
    }

    fn child(&mut self, rule: &'static BlockRule, line: Line<'s>, word: &str) {
        if let Some(odd) = first_odd(line.text) {
            self.odd(line, &odd);
            self.lost_row(rule, line);
            return self.mark_broken();
        }
        self.empty_text(line);
        let Some(grammar) = rule.child(word).or(rule.otherwise) else {
            return self.unknown_child(rule, line, word);
        };
        if rule.kind == BlockKind::Products {
            return self.push_child(products::row(line.text, line.start));
        }
        match parse_line(grammar, line.text, line.start) {
            Ok(mut statement) => {
                if rule.otherwise == Some(grammar) {
                    statement.verb = "round".into();
                } else if statement.verb.is_empty() {
                    // Such a line begins with a number, which stands among its arguments.
                    statement.verb = blocks::DIGIT.into();
                }
                self.push_child(statement);
                if grammar == Rule::s_row {
                    self.empty_place(line);
                }
            }
            Err(misfit) => {
                let hint = Hint { word, unit: self.unit_of_the_block() };
                let finding = words::misfit((line.text, line.start), rule, &misfit, hint);
                self.findings.push(finding);
                self.lost_row(rule, line);
                self.mark_broken();
            }
        }
    }

    /// A row of the map that cannot be read keeps its letter and its places, those without a name that can be read as
    /// unknown ones; else every row below it would lie one higher.
    fn lost_row(&mut self, rule: &BlockRule, line: Line<'s>) {
        if rule.kind != BlockKind::Map || !line.text.starts_with('|') {
            return;
        }
        let code = &line.text[..comment(line.text)];
        let (mut args, mut at) = (Vec::new(), line.start);
        for piece in code.split_inclusive([' ', '\t', ',', '|']) {
            let word = piece.trim_end_matches([' ', '\t', ',', '|']);
            if !word.is_empty() {
                let reads = parse_line(Rule::s_row, &format!("| {word}"), 0).is_ok();
                let name = if reads { word.to_owned() } else { String::new() };
                args.push(Located::new(Value::Name(name), Span::new(at, at + word.len())));
            }
            at += piece.len();
        }
        let span = Span::new(line.start, line.start + code.trim_end().len());
        self.push_child(Statement {
            verb: "|".into(),
            args,
            clauses: Vec::new(),
            span,
            prose: String::new(),
        });
    }

    /// Two bars with nothing between them: a place without a section is drawn as `.`, so that none is lost unseen.
    fn empty_place(&mut self, line: Line<'s>) {
        let code = &line.text[..comment(line.text)];
        let bars: Vec<usize> = code.match_indices('|').map(|(at, _)| at).collect();
        let empty = bars.windows(2).find_map(|pair| {
            let &[one, next] = pair else { return None };
            code[one + 1..next].trim().is_empty().then_some((one, next))
        });
        let Some((one, next)) = empty else { return };
        let span = Span::new(line.start + one, line.start + next + 1);
        self.findings.push(
            Finding::error("unreadable-line", span, "nothing stands between these two `|`")
                .help("write `.` where there is no section, or take one `|` out"),
        );
        self.mark_broken();
    }

    /// The unit that the head of the open block gives, as `measure gloss-20 in GU` does.
    fn unit_of_the_block(&self) -> Option<&str> {
        let head = self.tree.blocks.last()?.head.as_ref()?;
        if head.clause("rating").is_some() {
            return Some(slips::MARKS);
        }
        let unit = head.clause("in")?.args.last()?;
        if let Value::Free(unit) = &unit.value { Some(unit.as_str()) } else { None }
    }

    fn unknown_child(&mut self, rule: &BlockRule, line: Line<'s>, word: &str) {
        let message =
            format!("`{}` is not a word that stands under `{}`", clipped(first_word(line.text)), rule.word);
        let mut finding = Finding::error("unknown-word", word_span(line), message);
        let known = synonyms(word).find(|word| fits(rule, word));
        let meant = known.or_else(|| nearest(word, rule.words()));
        if let Some(help) = astray::behind(&self.lines, rule, line) {
            self.findings.push(finding.help(help));
            return self.mark_broken();
        }
        finding = match (meant, blocks::sole_owner(word)) {
            (None, None) if rule.word == "map" && line.text.split_whitespace().count() > 1 => {
                let places = line.text[..comment(line.text)].split_whitespace().collect::<Vec<_>>().join(" ");
                finding.help(format!("a row begins with `|`: write `| {} |`", clipped(&places)))
            }
            _ if rule.kind == BlockKind::Upkeep => finding.help(slips::upkeep(line.text)),
            _ if word.eq_ignore_ascii_case("potlife") && rule.words().any(|known| known == "pot") => {
                finding.help("did you mean `pot life`?")
            }
            (Some(near), _) => finding.help(format!("did you mean `{near}`?")),
            (None, Some(owner)) => finding.help(format!("it belongs under `{}`", owner.word)),
            (None, None) if rule.children.is_empty() => {
                finding.help(format!("nothing stands under `{}`", rule.word))
            }
            (None, None) => {
                let known: Vec<String> = rule.words().map(|word| format!("`{word}`")).collect();
                finding.help(format!("under `{}` stand {}", rule.word, crate::diag::list(&known, "and")))
            }
        };
        self.findings.push(finding);
        self.mark_broken();
    }

    fn odd(&mut self, line: Line<'s>, odd: &Odd) {
        let start = line.start + odd.at;
        let span = Span::new(start, start + odd.len);
        let message = format!("this line has {}", odd.name);
        self.findings.push(Finding::error("odd-character", span, message).help(odd.help));
    }

    fn not_yet(&mut self, line: Line<'s>, word: &str) {
        let message = format!("`{word}` is planned and not yet built");
        self.findings.push(
            Finding::error("not-yet", word_span(line), message)
                .help("take these lines out, or put `#` before each, until a later version knows them"),
        );
    }

    fn push_block(
        &mut self,
        rule: &'static BlockRule,
        head: Option<Statement>,
        salvaged: Option<Located<String>>,
        line: Line<'s>,
    ) {
        let span = head.as_ref().map_or(whole(line), |head| head.span);
        self.tree.blocks.push(Block {
            kind: rule.kind,
            head,
            salvaged,
            children: Vec::new(),
            broken: false,
            guessed: false,
            span,
        });
        self.open = Open::Block(rule);
        self.told_indent = false;
    }

    fn push_child(&mut self, statement: Statement) {
        if let Some(block) = self.tree.blocks.last_mut() {
            block.children.push(statement);
        }
    }

    fn mark_guessed(&mut self) {
        self.mark_broken();
        if let Some(block) = self.tree.blocks.last_mut() {
            block.guessed = true;
        }
    }

    fn mark_broken(&mut self) {
        if let Some(block) = self.tree.blocks.last_mut() {
            block.broken = true;
        }
    }
}

/// Whether a line at the margin is a line of the open block. A word that also opens a block of its own,
/// as `surface` under `apply`, opens it unless only the line of the block fits.
fn belongs_below(rule: &BlockRule, head: Option<&BlockRule>, line: Line<'_>, word: &str) -> bool {
    let Some(child) = rule.child(word) else { return false };
    let fits = |rule| parse_line(rule, line.text, 0).is_ok();
    head.is_none_or(|head| !fits(head.head) && fits(child))
}

fn fits(rule: &BlockRule, word: &str) -> bool {
    rule.child(word.split(' ').next().unwrap_or("")).is_some()
}

/// What the language has for a word of others; one word may have a meaning under each block.
fn synonyms(word: &str) -> impl Iterator<Item = &'static str> {
    SYNONYMS.iter().filter(move |(known, _)| *known == word).map(|&(_, instead)| instead)
}

/// The first word, or `|` for a row. A colon after it is taken.
fn first_word(text: &str) -> &str {
    if text.starts_with('|') {
        return "|";
    }
    let end = text.find([' ', '\t', ',', ':', '#', '"']).unwrap_or(text.len());
    &text[..end.max(text.chars().next().map_or(0, char::len_utf8))]
}

fn clipped(word: &str) -> &str {
    word.char_indices().nth(40).map_or(word, |(at, _)| &word[..at])
}

fn word_span(line: Line<'_>) -> Span {
    Span::new(line.start, line.start + clipped(first_word(line.text)).len())
}

fn whole(line: Line<'_>) -> Span {
    Span::new(line.start, line.start + clipped(line.text).len())
}

/// The name of a head that could not be read: its second word, if it looks like one.
fn salvage(code: &str, start: usize) -> Option<Located<String>> {
    let rest = code.trim_start_matches(|c: char| !c.is_whitespace());
    let name_at = code.len() - rest.trim_start().len();
    let name: &str =
        code.get(name_at..)?.split(|c: char| !(c.is_alphanumeric() || c == '-' || c == '_')).next()?;
    let good = name.chars().next().is_some_and(char::is_alphabetic) && !is_reserved(name);
    good.then(|| Located::new(name.to_owned(), Span::new(start + name_at, start + name_at + name.len())))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn codes(text: &str) -> Vec<(&'static str, String)> {
        let (_, findings) = parse(text);
        findings.into_iter().map(|finding| (finding.code, finding.message)).collect()
    }

    #[test]
    fn the_frame_is_read_whole() {
        let (tree, findings) = parse(include_str!("../checks/frame.study"));
        assert_eq!(findings, [], "{tree:#?}");
        assert_eq!(tree.blocks.iter().filter(|block| block.kind == BlockKind::Product).count(), 3);
    }

    #[test]
    fn three_independent_mistakes_give_three_findings() {
        let text = include_str!("../checks/frame.study")
            .replace("dry\n    polish", "drry\n    polish")
            .replace("two readings agree within 0.4 GU", "two readings agree within 0.4")
            .replace("within 1 day", "wihtin 1 day");
        assert_eq!(codes(&text).len(), 3, "{:?}", codes(&text));
    }

    #[test]
    fn a_misspelt_head_is_one_finding_and_its_lines_are_read() {
        let text = include_str!("../checks/frame.study").replace("\nprep\n", "\npreb\n");
        let (tree, findings) = parse(&text);
        assert_eq!(findings.len(), 1, "{findings:?}");
        let prep = tree.blocks.iter().find(|block| block.kind == BlockKind::Prep).unwrap();
        assert_eq!(prep.children.len(), 10);
    }

    #[test]
    fn a_hopeless_head_is_guessed_from_its_lines() {
        let text = include_str!("../checks/frame.study").replace("\nprep\n", "\nzzzzz\n");
        assert_eq!(codes(&text).len(), 1, "{:?}", codes(&text));
        let text = include_str!("../checks/frame.study").replace("\nprep\n", "\n");
        assert_eq!(codes(&text), [("head-missing", "`wash` belongs under `prep`".to_owned())]);
    }

    #[test]
    fn a_broken_definition_still_defines_its_name() {
        let text = "product bay \"Bay seal\" iz a wax\n    bought 3 EUR for 50 ml\n";
        let (tree, findings) = parse(text);
        assert_eq!(findings.len(), 1);
        assert_eq!(tree.blocks[0].salvaged.as_ref().map(|name| name.value.as_str()), Some("bay"));
        assert_eq!(tree.blocks[0].children.len(), 1);
    }

    #[test]
    fn first_mistakes_get_a_sentence_of_their_own() {
        let cases = [
            ("product my wax\n", "a name is one word"),
            (
                "product wax\n    bought €42 for 50 ml\n",
                "a price is written with the letters of its currency",
            ),
            ("surface door\n    size 880 x 580\n", "`580` has no unit"),
            ("surface door\n    size 5 x 4 in\n", "`in` is not a unit here, since it belongs to `in GU`"),
            ("product wax\n    flash 2 too 4 min\n", "`too` is not the word of a range"),
            ("product wax\n    bought EUR 20 for 500 ml\n", "an amount stands before its currency"),
            ("prep\n    wash with with\n", "`with` is a word of the language and cannot be a name"),
            ("prep\n    clay dry\n", "`dry` begins a statement of its own"),
            ("gauge g\n    repeats within 2 GU\n", "`repeats` is not a word that stands under `gauge`"),
        ];
        for (text, message) in cases {
            let found = codes(text);
            assert_eq!(found.len(), 1, "{text}: {found:?}");
            assert_eq!(found[0].1, message, "{text}");
        }
    }

    #[test]
    fn a_table_of_products_is_the_same_as_products() {
        let table = "products, a wax\n    | name | label | bought | flash in min | coats |\n    | rue | \"Rue wax\" | 20 EUR / 50 ml | 3 to 5 | 2 after 1 to 3 h |\n";
        let (tree, findings) = parse(table);
        assert_eq!(findings, []);
        let long = "product rue \"Rue wax\", a wax\n    bought 20 EUR for 50 ml\n    flash 2 to 6 min\n    coats 2 after 1 to 3 h\n";
        let (plain, _) = parse(long);
        let words = |tree: &Tree| {
            let children = tree.blocks[0].children.iter();
            children
                .map(|child| (child.verb.clone(), child.args.len(), child.clauses.len()))
                .collect::<Vec<_>>()
        };
        assert_eq!(words(&tree), words(&plain));
    }
}
