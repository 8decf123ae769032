//! Plain text for a terminal: wrapped paragraphs and tables in columns.

/// Texts are wrapped at this many characters.
const WIDTH: usize = 92;

/// A paragraph, wrapped; `first` stands before the first line and `rest` before all others.
pub fn paragraph(text: &str, first: &str, rest: &str) -> String {
    let (mut out, mut line) = (String::new(), first.to_owned());
    let mut empty = true;
    for word in text.split_whitespace() {
        if !empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
            out += line.trim_end();
            out.push('\n');
            rest.clone_into(&mut line);
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line += word;
        empty = false;
    }
    out + line.trim_end() + "\n"
}

/// Rows in columns, two blanks apart; `right` says which columns stand right. The first row is the head, with a rule below.
pub fn table(rows: &[Vec<String>], right: &[bool]) -> String {
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..right.len()).map(width).collect();
    let mut out = String::new();
    for (index, row) in rows.iter().enumerate() {
        let cells = row.iter().zip(&widths).zip(right).map(|((cell, &width), &right)| {
            if right { format!("{cell:>width$}") } else { format!("{cell:<width$}") }
        });
        out += cells.collect::<Vec<_>>().join("  ").trim_end();
        out.push('\n');
        if index == 0 {
            let rules = widths.iter().map(|&width| "-".repeat(width)).collect::<Vec<_>>();
            out += rules.join("  ").trim_end();
            out.push('\n');
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::{WIDTH, paragraph, table};

    #[test]
    fn a_paragraph_keeps_every_word_and_no_line_is_too_long() {
        let text = "one two three ".repeat(40);
        let wrapped = paragraph(&text, "- ", "  ");
        assert!(wrapped.lines().all(|line| line.chars().count() <= WIDTH));
        let words: Vec<&str> = wrapped.trim_start_matches("- ").split_whitespace().collect();
        assert_eq!(words, text.split_whitespace().collect::<Vec<_>>());
    }

    #[test]
    fn columns_stand_below_each_other() {
        let rows = [vec!["n".to_owned(), "word".to_owned()], vec!["12".to_owned(), "a".to_owned()]];
        assert_eq!(table(&rows, &[true, false]), " n  word\n--  ----\n12  a\n");
    }
}
