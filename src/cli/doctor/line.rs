//! What the doctor says: one line with its word, what was found, and what to do; as text and as a document.

use serde::Serialize;

use crate::checks::Severity;
use crate::sheets;
use crate::shown::Shown;

/// One thing that was looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Stable, for programs.
    pub id: &'static str,
    /// How heavy it weighs; `None` is in order.
    pub severity: Option<Severity>,
    /// What was found.
    pub found: String,
    /// What to do about it.
    pub remedy: Option<String>,
    /// The same as commands of a shell.
    pub commands: Vec<String>,
}

impl Line {
    /// In order.
    pub fn good(id: &'static str, found: impl Into<String>) -> Self {
        Self { id, severity: None, found: found.into(), remedy: None, commands: Vec::new() }
    }

    /// Worth knowing.
    pub fn note(id: &'static str, found: impl Into<String>, remedy: &str) -> Self {
        Self::weighed(id, Severity::Note, found.into(), remedy)
    }

    /// To be thought about.
    pub fn caution(id: &'static str, found: impl Into<String>, remedy: &str) -> Self {
        Self::weighed(id, Severity::Caution, found.into(), remedy)
    }

    /// In the way.
    pub fn stop(id: &'static str, found: impl Into<String>, remedy: &str) -> Self {
        Self::weighed(id, Severity::Stop, found.into(), remedy)
    }

    fn weighed(id: &'static str, severity: Severity, found: String, remedy: &str) -> Self {
        let remedy = (!remedy.is_empty()).then(|| remedy.to_string());
        Self { id, severity: Some(severity), found, remedy, commands: Vec::new() }
    }

    /// With the commands that do it.
    #[must_use]
    pub fn by(self, commands: impl IntoIterator<Item = String>) -> Self {
        Self { commands: commands.into_iter().collect(), ..self }
    }

    /// `good`, or the word of its severity.
    pub fn word(&self) -> &'static str {
        self.severity.map_or("good", Severity::word)
    }

    fn text(&self) -> String {
        let remedy = self.remedy.as_ref().map_or(String::new(), |remedy| format!("; {}", Shown(remedy)));
        let line = format!("{:<7}  {}{remedy}", self.word(), Shown(&self.found));
        let commands = self.commands.iter().map(|command| format!("           {}", Shown(command)));
        std::iter::once(line).chain(commands).collect::<Vec<_>>().join("\n") + "\n"
    }
}

/// Whether anything is in the way.
pub fn any_stop(lines: &[Line]) -> bool {
    lines.iter().any(|line| line.severity == Some(Severity::Stop))
}

/// All lines for a person, and how many of each weight there are.
pub fn text(lines: &[Line]) -> String {
    let severities: Vec<Severity> = lines.iter().filter_map(|line| line.severity).collect();
    let counted = sheets::counted(&severities).unwrap_or_else(|| "all is in order".into());
    let lines: String = lines.iter().map(Line::text).collect();
    format!("{lines}\n{counted}\n")
}

/// The same as one JSON document, schema `gunnel.doctor/1`.
pub fn json(lines: &[Line], exit_code: u8) -> String {
    #[derive(Serialize)]
    struct Sheet {
        schema: &'static str,
        ok: bool,
        exit_code: u8,
        lines: Vec<Row>,
    }
    #[derive(Serialize)]
    struct Row {
        id: &'static str,
        severity: &'static str,
        found: String,
        remedy: Option<String>,
        commands: Vec<String>,
    }
    let row = |line: &Line| Row {
        id: line.id,
        severity: line.word(),
        found: Shown(&line.found).to_string(),
        remedy: line.remedy.as_ref().map(|remedy| Shown(remedy).to_string()),
        commands: line.commands.iter().map(|command| Shown(command).to_string()).collect(),
    };
    let sheet =
        Sheet { schema: "gunnel.doctor/1", ok: exit_code == 0, exit_code, lines: lines.iter().map(row).collect() };
    serde_json::to_string_pretty(&sheet).unwrap_or_else(|_| "null".into()) + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_in_a_line_drives_a_terminal() {
        let evil = "\u{1b}]0;x\u{7}\u{202e}\nstop";
        let line = Line::note("x", evil, evil).by([evil.to_string()]);
        for says in [text(std::slice::from_ref(&line)), json(&[line], 0)] {
            let unsafe_letters = says.chars().filter(|letter| *letter != '\n' && crate::shown::is_unsafe(*letter));
            assert_eq!(unsafe_letters.count(), 0, "{says:?}");
            assert!(!says.contains("\nstop"), "no line of its own: {says}");
        }
    }

    #[test]
    fn weights_are_counted_and_order_is_said() {
        assert!(text(&[Line::good("a", "b")]).ends_with("good     b\n\nall is in order\n"));
        let lines = [Line::stop("a", "b", "c"), Line::note("a", "b", ""), Line::note("a", "b", "")];
        assert!(text(&lines).ends_with("\n1 stop, 2 notes\n"));
        assert!(any_stop(&lines) && !any_stop(&lines[1..]));
    }
}
