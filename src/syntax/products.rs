//! The drawn table of products: each row becomes a product, each place a statement of that product.

use super::access::Clauses;
use super::parser::{Rule, parse_line};
use super::slips::Hint;
use super::tree::{Arg, Block, BlockKind, Clause, Num, Quantity, Statement, Tree, Value};
use super::words;
use crate::diag::{Finding, list, nearest};
use crate::text::{Located, Span};

/// A column: its heading, the statement that it writes, and the rule of its places.
const COLUMNS: &[(&str, Rule)] = &[
    ("name", Rule::t_name),
    ("label", Rule::t_text),
    ("kind", Rule::t_kind),
    ("bought", Rule::t_price),
    ("batch", Rule::t_batch),
    ("category", Rule::t_text),
    ("uses", Rule::t_qty),
    ("coats", Rule::t_coats),
    ("flash", Rule::t_qty),
    ("dry", Rule::t_qty),
    ("cure", Rule::t_qty),
    ("like", Rule::t_name),
    ("sheet", Rule::t_sheet),
    ("hazards", Rule::t_hazards),
    ("packed", Rule::t_packed),
    ("tool", Rule::t_text),
];

/// A row as a statement of plain places; what they mean is known once the headings are.
pub(super) fn row(text: &str, start: usize) -> Statement {
    let mut args = Vec::new();
    let (mut quoted, mut from) = (false, None);
    for (at, byte) in text.bytes().enumerate() {
        match byte {
            b'"' => quoted = !quoted,
            b'#' if !quoted => break,
            b'|' if !quoted => {
                if let Some(from) = from {
                    args.push(place(text, from, at, start));
                }
                from = Some(at + 1);
            }
            _ => {}
        }
    }
    let rest = from.map_or("", |from| &text[from..]);
    if !rest.trim().is_empty() && !rest.trim_start().starts_with('#') {
        args.push(place(text, text.len() - rest.len(), text.len(), start));
    }
    let span = Span::new(start, start + text.len());
    Statement { verb: "|".into(), args, clauses: Vec::new(), span, prose: String::new() }
}

fn place(text: &str, from: usize, to: usize, start: usize) -> Arg {
    let raw = &text[from..to];
    let lead = raw.len() - raw.trim_start().len();
    let words = raw.trim();
    let at = start + from + lead;
    Located::new(Value::Free(words.to_owned()), Span::new(at, at + words.len()))
}

/// Turns every table of products into product blocks, so that later phases know one form only.
pub(super) fn expand(tree: &mut Tree, findings: &mut Vec<Finding>) {
    if tree.blocks.iter().all(|block| block.kind != BlockKind::Products) {
        return;
    }
    let mut blocks = Vec::new();
    for block in std::mem::take(&mut tree.blocks) {
        if block.kind == BlockKind::Products {
            Table::new(&block).expand(findings, &mut blocks);
        } else {
            blocks.push(block);
        }
    }
    tree.blocks = blocks;
}

struct Column {
    name: &'static str,
    rule: Rule,
    unit: Option<Num>,
}

struct Table<'b> {
    block: &'b Block,
    kind: Option<&'b Clause>,
}

impl<'b> Table<'b> {
    fn new(block: &'b Block) -> Self {
        let head = block.head.as_ref();
        Self { block, kind: head.and_then(|head| head.clause("kind_with_article")) }
    }

    fn expand(&self, findings: &mut Vec<Finding>, blocks: &mut Vec<Block>) {
        let mut rows = self.block.children.iter();
        let Some(headings) = rows.next() else {
            let message = "a table of products needs a row of headings and a row for each product";
            findings.push(
                Finding::error("table-empty", self.block.span, message)
                    .help("begin with `| name  label  bought |`"),
            );
            return;
        };
        let columns: Vec<Option<Column>> = headings.args.iter().map(|arg| column(arg, findings)).collect();
        if !columns.iter().flatten().any(|column| column.name == "name") {
            findings.push(
                Finding::error(
                    "heading-unknown",
                    headings.span,
                    "the table of products has no column `name`",
                )
                .help("give one column the heading `name`"),
            );
            return;
        }
        // Words below the head or the headings belong to the first row, so that none are lost.
        let mut words = self.block.prose().to_owned() + &headings.prose;
        for row in rows {
            if row.args.len() != columns.len() {
                let message =
                    format!("this row has {} places, the headings have {}", row.args.len(), columns.len());
                findings.push(
                    Finding::error("ragged-table", row.span, message)
                        .help("write `-` in a place that stays empty"),
                );
            }
            let mut product = self.product(row, &columns, findings);
            if let Some(head) = &mut product.head {
                head.prose = std::mem::take(&mut words) + &row.prose;
            }
            blocks.push(product);
        }
    }

    fn product(&self, row: &Statement, columns: &[Option<Column>], findings: &mut Vec<Finding>) -> Block {
        let mut product = Block {
            kind: BlockKind::Product,
            head: None,
            salvaged: None,
            children: Vec::new(),
            broken: self.block.broken,
            guessed: false,
            span: row.span,
        };
        let mut head = Statement {
            verb: "product".into(),
            args: Vec::new(),
            clauses: self.kind.cloned().into_iter().collect(),
            span: row.span,
            prose: String::new(),
        };
        for (column, arg) in columns.iter().zip(&row.args) {
            let (Some(column), Value::Free(words)) = (column, &arg.value) else { continue };
            if words.is_empty() || words == "-" {
                continue;
            }
            match read_place(column, words, arg.span, findings) {
                Some(statement) => fill(column.name, statement, &mut head, &mut product),
                None => product.broken = true,
            }
        }
        // The name stands first, whatever the order of the columns.
        head.args.sort_by_key(|arg| !matches!(arg.value, Value::Name(_)));
        product.head = Some(head);
        product
    }
}

fn fill(column: &str, statement: Statement, head: &mut Statement, product: &mut Block) {
    match column {
        "name" | "label" => head.args.extend(statement.args.into_iter().map(|arg| match arg.value {
            Value::Free(words) => Located::new(Value::Text(words), arg.span),
            _ => arg,
        })),
        "kind" => {
            let clause =
                Clause { name: "kind", args: statement.args, clauses: Vec::new(), span: statement.span };
            head.clauses.retain(|clause| !clause.name.starts_with("kind"));
            head.clauses.push(clause);
        }
        _ => product.children.push(Statement { verb: column.to_owned(), ..statement }),
    }
}

fn column(arg: &Arg, findings: &mut Vec<Finding>) -> Option<Column> {
    let Value::Free(words) = &arg.value else { return None };
    let heading = parse_line(Rule::t_heading, words, arg.span.start as usize);
    let known = heading
        .as_ref()
        .ok()
        .map(|heading| if heading.verb == "price" { "bought" } else { heading.verb.as_str() })
        .and_then(|word| COLUMNS.iter().find(|(name, _)| *name == word));
    let Some(&(name, rule)) = known else {
        let names: Vec<String> = COLUMNS.iter().map(|(name, _)| format!("`{name}`")).collect();
        let near = nearest(words, COLUMNS.iter().map(|&(name, _)| name));
        let help = near.map_or_else(
            || format!("columns are {}", list(&names, "and")),
            |near| format!("did you mean `{near}`?"),
        );
        findings.push(
            Finding::error("heading-unknown", arg.span, format!("`{words}` heads no column of products"))
                .help(help),
        );
        return None;
    };
    let unit = heading.ok().and_then(|heading| {
        let unit = heading.clause("in")?.args.last()?.clone();
        let Value::Free(words) = unit.value else { return None };
        Some(Located::new(words, unit.span))
    });
    Some(Column { name, rule, unit })
}

fn read_place(column: &Column, words: &str, span: Span, findings: &mut Vec<Finding>) -> Option<Statement> {
    let bare = words.bytes().next_back().is_some_and(|byte| byte.is_ascii_digit());
    let rule = if column.unit.is_some() && bare { Rule::t_number } else { column.rule };
    match parse_line(rule, words, span.start as usize) {
        Ok(mut statement) => {
            if let Some(unit) = &column.unit {
                give_unit(&mut statement.args, unit);
            }
            // `58.00 EUR / 50 ml` is the table's short form of `bought 58.00 EUR for 50 ml`.
            if column.rule == Rule::t_price && statement.args.len() == 2 {
                let amount = statement.args.pop().into_iter().collect();
                statement.clauses.push(Clause { name: "amount", args: amount, clauses: Vec::new(), span });
            }
            Some(statement)
        }
        Err(misfit) => {
            let block = super::blocks::block("product")?;
            let finding = if column.rule == Rule::t_name && words.contains(char::is_whitespace) {
                let joined: Vec<&str> = words.split_whitespace().collect();
                Finding::error("unreadable-line", span, "a name is one word")
                    .help(format!("write `{}`, and the name for print under `label`", joined.join("-")))
            } else {
                let unit = column.unit.as_ref().map(|unit| unit.value.as_str());
                let hint = Hint { word: column.name, unit };
                words::misfit((words, span.start as usize), block, &misfit, hint)
            };
            findings.push(finding);
            None
        }
    }
}

fn give_unit(args: &mut [Arg], unit: &Num) {
    for arg in args {
        if let Value::Quantity(Quantity { unit: missing @ None, .. }) = &mut arg.value {
            *missing = Some(unit.clone());
        }
    }
}
