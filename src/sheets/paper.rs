//! A sheet for the bench in three forms: text to read, Markdown to keep, CSV for a spreadsheet.

use std::fmt::Write;

use crate::shown::Shown;

/// A sheet: what to mind, a drawing in text, a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// What it is a sheet of.
    pub title: String,
    /// What to mind before the work; stands first.
    pub cautions: Vec<String>,
    /// Lines of a drawing, ASCII.
    pub drawing: Vec<String>,
    /// Names of the columns, with their units; the first column names the row.
    pub columns: &'static [&'static str],
    /// Cells by row; an empty cell is not known or does not apply.
    pub rows: Vec<Vec<String>>,
}

/// How a sheet is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetForm {
    /// To read.
    Text,
    /// To keep and to print.
    Markdown,
    /// For a spreadsheet: the table alone.
    Csv,
}

impl Sheet {
    /// The sheet, written.
    pub fn written(&self, form: SheetForm) -> String {
        match form {
            SheetForm::Text => self.text(),
            SheetForm::Markdown => self.markdown(),
            SheetForm::Csv => self.csv(),
        }
    }

    /// One block a row: a table of so many columns is wider than a page.
    fn text(&self) -> String {
        let mut text = format!("{}\n\n", Shown(&self.title));
        self.cautions.iter().for_each(|caution| text.push_str(&format!("! {}\n", Shown(caution))));
        text.push('\n');
        self.drawing.iter().for_each(|line| text.push_str(&format!("{}\n", Shown(line))));
        let wide = self.columns.iter().map(|name| name.len()).max().unwrap_or(0);
        for row in &self.rows {
            text.push('\n');
            for (column, cell) in self.columns.iter().zip(row).filter(|(_, cell)| !cell.is_empty()) {
                // Writing into a string cannot fail.
                let _ = writeln!(text, "{column:wide$}  {}", Shown(cell));
            }
        }
        text
    }

    fn markdown(&self) -> String {
        let mut text = format!("# {}\n\n", plain_markdown(&self.title));
        self.cautions.iter().for_each(|caution| text.push_str(&format!("- **{}**\n", plain_markdown(caution))));
        text.push('\n');
        // Indented, not fenced: no name can end the block.
        self.drawing.iter().for_each(|line| text.push_str(&format!("    {}\n", Shown(line))));
        let line = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
        text.push('\n');
        text.push_str(&line(self.columns.iter().map(ToString::to_string).collect()));
        text.push_str(&line(self.columns.iter().map(|_| "---".into()).collect()));
        self.rows.iter().for_each(|row| text.push_str(&line(row.iter().map(|cell| plain_markdown(cell)).collect())));
        text
    }

    fn csv(&self) -> String {
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        // Into memory, with rows of one length: neither can fail.
        let _ = writer.write_record(self.columns);
        for row in &self.rows {
            let _ = writer.write_record(row.iter().map(|cell| guarded(cell)));
        }
        String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
    }
}

/// Text that Markdown prints as it stands: whatever could be markup has a backslash before it.
fn plain_markdown(text: &str) -> String {
    let shown = Shown(text).to_string();
    let mut plain = String::new();
    let mut rest = shown.chars().peekable();
    while let Some(c) = rest.next() {
        let markup = match (c, rest.peek()) {
            // Only before a bracket is it the start of a picture.
            ('!', next) => next == Some(&'['),
            // Followed by a space it is neither an address nor the name of a small picture.
            (':', next) => next.is_some_and(|next| !next.is_whitespace()),
            _ => "\\`*_{}[]<>#|~&@$".contains(c),
        };
        plain.extend(markup.then_some('\\'));
        plain.push(c);
    }
    plain
}

/// A cell that no spreadsheet takes for a formula. Source: common practice, no source: an apostrophe before it.
fn guarded(cell: &str) -> String {
    let shown = Shown(cell).to_string();
    let formula = cell.trim_start().starts_with(['=', '+', '-', '@']) || cell.starts_with(char::is_control);
    if formula { format!("'{shown}") } else { shown }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(cell: &str) -> Sheet {
        Sheet {
            title: format!("sheet of {cell}"),
            cautions: vec!["mind".into()],
            drawing: vec![format!("{cell} --> load")],
            columns: &["wire", "to"],
            rows: vec![vec!["W1".into(), cell.into()]],
        }
    }

    /// What a spreadsheet would run is text; what it would split is one cell.
    #[test]
    fn csv_holds_what_would_be_a_formula_or_another_cell() {
        for (cell, written) in [
            ("=1+1", "'=1+1"),
            ("+1", "'+1"),
            ("-1", "'-1"),
            ("@SUM(A1)", "'@SUM(A1)"),
            (" =1", "' =1"),
            ("\t=1", "' =1"),
            ("\r=1", "'\u{27e8}U+000D\u{27e9}=1"),
            ("a,b", "\"a,b\""),
            ("say \"ho\"", "\"say \"\"ho\"\"\""),
            ("lamp - aft", "lamp - aft"),
        ] {
            assert_eq!(sheet(cell).written(SheetForm::Csv), format!("wire,to\r\nW1,{written}\r\n"), "{cell:?}");
        }
    }

    #[test]
    fn markdown_prints_names_as_they_stand() {
        let text = sheet("a|b *c* <d> [e](f) `g`").written(SheetForm::Markdown);
        assert!(text.contains(r"| W1 | a\|b \*c\* \<d\> \[e\](f) \`g\` |"), "{text}");
        assert!(text.contains("    a|b *c* <d> [e](f) `g` --> load\n"), "{text}");
    }

    #[test]
    fn markdown_leaves_points_of_speech_alone() {
        for (name, written) in [
            ("mind: hot!", "mind: hot!"),
            ("![e](f)", r"\!\[e\](f)"),
            ("http://a", r"http\://a"),
            (":fish:", r"\:fish:"),
        ] {
            assert_eq!(plain_markdown(name), written);
        }
    }

    #[test]
    fn no_form_passes_on_what_drives_a_terminal() {
        for form in [SheetForm::Text, SheetForm::Markdown, SheetForm::Csv] {
            let text = sheet("\u{1b}[2J\u{202e}x").written(form);
            assert!(!text.contains(['\u{1b}', '\u{202e}']), "{text:?}");
        }
    }
}
