//! The plan as plain text for the terminal.

use crate::markup::{paragraph, table};
use crate::report::{Block, PlanView, Table};

/// The text of a plan.
pub fn plan_text(view: &PlanView) -> String {
    let mut out = view.title.clone() + "\n";
    for part in &view.parts {
        out += "\n";
        out += &paragraph(&part.heading, "", "");
        out += &"-".repeat(part.heading.chars().count().min(92));
        out += "\n";
        for block in &part.blocks {
            match block {
                Block::Paragraph { text } => out += &(paragraph(text, "", "") + "\n"),
                Block::List { items } => {
                    out.extend(items.iter().map(|item| paragraph(item, "- ", "  ")));
                    out += "\n";
                }
                Block::Table(rows) => out += &(columns(rows) + "\n"),
                // A plan has neither pictures, nor terms of a method, nor prose of the study.
                Block::Picture(_) | Block::Terms { .. } | Block::Quote { .. } => {}
            }
        }
        out.truncate(out.trim_end().len());
        out += "\n";
    }
    out
}

fn columns(of: &Table) -> String {
    let head: Vec<String> = of.head.iter().map(|column| column.text.clone()).collect();
    let body = of.rows.iter().map(|row| row.iter().map(|cell| cell.text.clone()).collect());
    let rows: Vec<Vec<String>> = [head].into_iter().chain(body).collect();
    let right: Vec<bool> = of.head.iter().map(|column| column.right).collect();
    table(&rows, &right)
}
