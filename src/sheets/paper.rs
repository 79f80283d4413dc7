//! A sheet for the bench in four forms: text to read, Markdown to keep, CSV for a spreadsheet, JSON for programs.

use std::fmt::Write;

use serde_json::{Map, Value, json};
use unicode_width::UnicodeWidthStr;

use super::json;
use crate::shown::Shown;

/// A table whose columns, all but the last, are wider than this is not printed as one but as a block a row, columns of
/// text. A wide printer's line.
const PAGE: usize = 132;

/// What stands in a box to tick, and in one that is ticked.
pub(super) const TO_DO: &str = "[ ]";
pub(super) const DONE: &str = "[x]";

/// Columns that are numbers in JSON: counts, and those whose name ends in a unit.
const NUMBERS: &[&str] = &["no", "count", "spare", "mm", "mm2", "ml", "A", "V", "AWG", "minutes", "hours", "peak"];

/// A sheet: what to mind, a drawing in text, a table in sections.
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
    /// The table.
    pub sections: Vec<Section>,
}

/// Rows of a sheet that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// What they are; empty where the sheet has no parts.
    pub heading: String,
    /// Cells by row; an empty cell is not known or does not apply.
    pub rows: Vec<Vec<String>>,
}

impl Section {
    /// The one section of a sheet without parts.
    pub fn whole(rows: Vec<Vec<String>>) -> Vec<Self> {
        vec![Self { heading: String::new(), rows }]
    }
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
    /// For programs.
    Json,
}

impl Sheet {
    /// The same without its last column where nothing stands in it.
    pub(super) fn without_empty_end(mut self) -> Self {
        let rows = || self.sections.iter().flat_map(|section| &section.rows);
        if let Some((_, columns)) = self.columns.split_last()
            && rows().all(|row| row.last().is_none_or(String::is_empty))
        {
            self.columns = columns;
            self.sections.iter_mut().flat_map(|section| &mut section.rows).for_each(|row| drop(row.pop()));
        }
        self
    }

    /// The sheet, written.
    pub fn written(&self, form: SheetForm) -> String {
        match form {
            SheetForm::Text => self.text(),
            SheetForm::Markdown => self.markdown(),
            SheetForm::Csv => self.csv(),
            SheetForm::Json => self.json(),
        }
    }

    fn text(&self) -> String {
        let mut text = format!("{}\n\n", Shown(&self.title));
        self.cautions.iter().for_each(|caution| text.push_str(&format!("! {}\n", Shown(caution))));
        text.push('\n');
        self.drawing.iter().for_each(|line| text.push_str(&format!("{}\n", Shown(line))));
        let widths = self.widths();
        // The last column is text that may run on.
        let fits = widths.iter().rev().skip(1).map(|width| width + 2).sum::<usize>() <= PAGE;
        for section in &self.sections {
            if !section.heading.is_empty() {
                // Writing into a string cannot fail.
                let _ = write!(text, "\n{}\n", Shown(&section.heading));
            } else if fits && !self.drawing.is_empty() {
                text.push('\n');
            }
            if fits { self.table(section, &widths, &mut text) } else { self.blocks(section, &mut text) }
        }
        text
    }

    /// How wide each column is with its name.
    fn widths(&self) -> Vec<usize> {
        let cells = |column: usize| self.rows().filter_map(move |row| row.get(column));
        let wide = |cell: &String| Shown(cell).to_string().width();
        let names = self.columns.iter().enumerate();
        names.map(|(column, name)| cells(column).map(wide).max().unwrap_or(0).max(name.len())).collect()
    }

    fn rows(&self) -> impl Iterator<Item = &Vec<String>> {
        self.sections.iter().flat_map(|section| &section.rows)
    }

    fn table(&self, section: &Section, widths: &[usize], text: &mut String) {
        if section.rows.is_empty() {
            return;
        }
        let mut line = |cells: Vec<String>| {
            let padded = cells.iter().zip(widths).map(|(cell, width)| {
                let rest = width.saturating_sub(cell.width());
                format!("{cell}{}", " ".repeat(rest))
            });
            text.push_str(padded.collect::<Vec<_>>().join("  ").trim_end());
            text.push('\n');
        };
        line(self.columns.iter().map(ToString::to_string).collect());
        section.rows.iter().for_each(|row| line(row.iter().map(|cell| Shown(cell).to_string()).collect()));
    }

    /// One block a row: a table of so many columns is wider than a page.
    fn blocks(&self, section: &Section, text: &mut String) {
        let wide = self.columns.iter().map(|name| name.len()).max().unwrap_or(0);
        for row in &section.rows {
            text.push('\n');
            for (column, cell) in self.columns.iter().zip(row).filter(|(_, cell)| !cell.is_empty()) {
                let _ = writeln!(text, "{column:wide$}  {}", Shown(cell));
            }
        }
    }

    fn markdown(&self) -> String {
        let mut text = format!("# {}\n\n", plain_markdown(&self.title));
        self.cautions.iter().for_each(|caution| text.push_str(&format!("- **{}**\n", plain_markdown(caution))));
        text.push('\n');
        // Indented, not fenced: no name can end the block.
        self.drawing.iter().for_each(|line| text.push_str(&format!("    {}\n", Shown(line))));
        let line = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
        for section in &self.sections {
            text.push('\n');
            if !section.heading.is_empty() {
                let _ = write!(text, "## {}\n\n", plain_markdown(&section.heading));
            }
            text.push_str(&line(self.columns.iter().map(ToString::to_string).collect()));
            text.push_str(&line(self.columns.iter().map(|_| "---".into()).collect()));
            let cells = |row: &Vec<String>| row.iter().map(|cell| plain_markdown(cell)).collect();
            section.rows.iter().for_each(|row| text.push_str(&line(cells(row))));
        }
        text
    }

    /// The table; where the sheet has parts, their heading is the first column.
    fn csv(&self) -> String {
        let parts = self.sections.iter().any(|section| !section.heading.is_empty());
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        // Into memory, with rows of one length: neither can fail.
        let _ = writer.write_record(parts.then_some("section").into_iter().chain(self.columns.iter().copied()));
        for section in &self.sections {
            let heading = parts.then(|| guarded(&section.heading));
            for row in &section.rows {
                let _ = writer.write_record(heading.iter().cloned().chain(row.iter().map(|cell| guarded(cell))));
            }
        }
        String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
    }

    /// Names of columns become names of fields; text stands as it was typed, JSON escapes it itself.
    fn json(&self) -> String {
        let field = |name: &str| name.to_lowercase().replace('%', "percent").replace(' ', "_");
        let fields = |row: &Vec<String>| -> Map<String, Value> {
            self.columns.iter().zip(row).map(|(name, cell)| (field(name), value(name, cell))).collect()
        };
        let sections = self.sections.iter().map(|section| {
            let rows: Vec<Map<String, Value>> = section.rows.iter().map(fields).collect();
            json!({ "heading": section.heading, "rows": rows })
        });
        let sections: Vec<Value> = sections.collect();
        json(&json!({
            "title": self.title,
            "cautions": self.cautions,
            "drawing": self.drawing,
            "sections": sections,
        }))
    }
}

/// A cell for JSON: yes or no for a box, a number where the column holds numbers, nothing where it is empty.
fn value(column: &str, cell: &str) -> Value {
    let numeric = column.rsplit(' ').next().is_some_and(|last| NUMBERS.contains(&last));
    match cell {
        TO_DO => Value::Bool(false),
        DONE => Value::Bool(true),
        "" => Value::Null,
        _ if numeric => serde_json::from_str(cell).unwrap_or_else(|_| Value::from(cell)),
        _ => Value::from(cell),
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
            sections: Section::whole(vec![vec!["W1".into(), cell.into()]]),
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
    fn json_has_numbers_where_the_column_holds_them_and_names_as_typed() {
        let rows = vec![vec![TO_DO.into(), "12".into(), "12.5".into()], vec![DONE.into(), "=1".into(), String::new()]];
        let columns = &["done", "name", "stop at mm"];
        let sheet = Sheet { columns, sections: Section::whole(rows), ..sheet("x") };
        let read: Value = serde_json::from_str(&sheet.written(SheetForm::Json)).unwrap_or_default();
        let rows = &read["sections"][0]["rows"];
        assert_eq!(rows[0], json!({ "done": false, "name": "12", "stop_at_mm": 12.5 }));
        assert_eq!(rows[1], json!({ "done": true, "name": "=1", "stop_at_mm": null }));
    }

    #[test]
    fn parts_are_headed_and_in_a_spreadsheet_a_column() {
        let part = |heading: &str| Section { heading: heading.into(), rows: vec![vec!["W1".into(), "lamp".into()]] };
        let sheet = Sheet { sections: vec![part("=fore"), part("aft")], ..sheet("x") };
        assert_eq!(sheet.written(SheetForm::Csv), "section,wire,to\r\n'=fore,W1,lamp\r\naft,W1,lamp\r\n");
        assert!(
            sheet.written(SheetForm::Text).ends_with("\n=fore\nwire  to\nW1    lamp\n\naft\nwire  to\nW1    lamp\n")
        );
    }

    #[test]
    fn no_form_passes_on_what_drives_a_terminal() {
        for form in [SheetForm::Text, SheetForm::Markdown, SheetForm::Csv] {
            let text = sheet("\u{1b}[2J\u{202e}x").written(form);
            assert!(!text.contains(['\u{1b}', '\u{202e}']), "{text:?}");
        }
    }
}
