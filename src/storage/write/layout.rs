//! Lays flat RON out for reading: a bracket that fits on its line stays on it, any other gives each part a line.
//!
//! So a figure, a placement or a hull section is one line, and a piece of gear has one field a line. Lists of short
//! numbers are filled like text.

/// The widest line, indent included, in characters.
const WIDEST: usize = 120;
/// Parts of a list up to this long are filled, several to a line.
const SHORT: usize = 24;
const INDENT: &str = "    ";

/// Lays out one value as the serializer wrote it, without blanks between its parts; ends with a line feed.
pub(super) fn laid_out(flat: &str) -> String {
    let mut out = String::with_capacity(flat.len() * 2);
    Piece::of(flat).write(0, 0, &mut out);
    out.push('\n');
    out
}

/// A value, perhaps with the field it belongs to: `head`, then (if it is a bracket) its parts.
struct Piece<'a> {
    head: &'a str,
    parts: Option<(char, Vec<Piece<'a>>)>,
}

impl<'a> Piece<'a> {
    fn of(flat: &'a str) -> Self {
        let outside_strings = |bracket: &[char]| positions(flat).find(|(_, c)| bracket.contains(c)).map(|(at, _)| at);
        match outside_strings(&['(', '[', '{']) {
            Some(open) if flat.ends_with([')', ']', '}']) => {
                let inner = &flat[open + 1..flat.len() - 1];
                let parts = split(inner).into_iter().filter(|part| !part.is_empty()).map(Piece::of).collect();
                Self { head: &flat[..=open], parts: Some((flat.as_bytes()[flat.len() - 1] as char, parts)) }
            }
            _ => Self { head: flat, parts: None },
        }
    }

    /// The piece on one line.
    fn line(&self) -> String {
        let head = spaced(self.head);
        match &self.parts {
            None => head,
            Some((close, parts)) => {
                let parts: Vec<String> = parts.iter().map(Piece::line).collect();
                format!("{head}{}{close}", parts.join(", "))
            }
        }
    }

    /// Writes the piece at a depth, on a line of which `used` characters beyond the indent are taken.
    fn write(&self, depth: usize, used: usize, out: &mut String) {
        let line = self.line();
        let room = WIDEST.saturating_sub(depth * INDENT.len() + used + 1);
        let (Some((close, parts)), true) = (&self.parts, line.chars().count() > room || depth == 0) else {
            out.push_str(&line);
            return;
        };
        out.push_str(&spaced(self.head));
        out.push('\n');
        let inside = INDENT.repeat(depth + 1);
        if self.head.ends_with('[') && parts.iter().all(|part| part.line().chars().count() <= SHORT) {
            fill(parts, &inside, out);
        } else {
            for part in parts {
                out.push_str(&inside);
                part.write(depth + 1, 0, out);
                out.push_str(",\n");
            }
        }
        out.push_str(&INDENT.repeat(depth));
        out.push(*close);
    }
}

fn fill(parts: &[Piece<'_>], inside: &str, out: &mut String) {
    let mut line = String::new();
    for part in parts {
        let next = part.line() + ",";
        if !line.is_empty() && inside.len() + line.chars().count() + 1 + next.chars().count() > WIDEST {
            out.push_str(&format!("{inside}{line}\n"));
            line.clear();
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(&next);
    }
    out.push_str(&format!("{inside}{line}\n"));
}

/// A blank after the colon of a field, and whole numbers without their `.0`.
fn spaced(head: &str) -> String {
    let (field, value) = match positions(head).find(|(_, c)| *c == ':') {
        Some((colon, _)) => (format!("{}: ", &head[..colon]), &head[colon + 1..]),
        None => (String::new(), head),
    };
    let whole =
        value.strip_suffix(".0").filter(|digits| digits.trim_start_matches('-').bytes().all(|b| b.is_ascii_digit()));
    format!("{field}{}", whole.unwrap_or(value))
}

/// The parts of a bracket's inside: cut at the commas that are in no string and no further bracket.
fn split(inner: &str) -> Vec<&str> {
    let (mut parts, mut from, mut depth) = (Vec::new(), 0, 0_usize);
    for (at, c) in positions(inner) {
        match c {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth = depth.saturating_sub(1),
            ',' if depth == 0 => {
                parts.push(&inner[from..at]);
                from = at + 1;
            }
            _ => {}
        }
    }
    parts.push(&inner[from..]);
    parts
}

/// The characters that stand outside strings.
fn positions(text: &str) -> impl Iterator<Item = (usize, char)> {
    let (mut inside, mut escaped) = (false, false);
    text.char_indices().filter(move |(_, c)| {
        let outside = !inside && *c != '"';
        match c {
            _ if escaped => escaped = false,
            '\\' if inside => escaped = true,
            '"' => inside = !inside,
            _ => {}
        }
        outside
    })
}

#[cfg(test)]
mod tests {
    use super::laid_out;

    fn check(flat: &str, expected: &str) {
        assert_eq!(laid_out(flat), expected);
    }

    #[test]
    fn small_brackets_stay_on_their_line_and_large_ones_open() {
        check(
            "(mass:(value:Kg(4.2),origin:Catalogue),gear:[],note:\"a, (b: \\\" 1.0\",x:310.0,y:-0.5)",
            "(\n    mass: (value: Kg(4.2), origin: Catalogue),\n    gear: [],\n    note: \"a, (b: \\\" 1.0\",\n    x: 310,\n    y: -0.5,\n)\n",
        );
        let long = "n".repeat(60);
        check(
            &format!("(gear:[(id:1,a:\"{long}\",b:\"{long}\")])"),
            &format!(
                "(\n    gear: [\n        (\n            id: 1,\n            a: \"{long}\",\n            b: \"{long}\",\n        ),\n    ],\n)\n"
            ),
        );
    }

    #[test]
    fn lists_of_short_numbers_are_filled() {
        let corners = vec!["(1000.0,-200.0)"; 20].join(",");
        let text = laid_out(&format!("(outline_mm:[{corners}])"));
        assert!(text.lines().all(|line| line.len() <= super::WIDEST), "{text}");
        assert!(text.lines().count() < 8, "{text}");
        assert!(text.contains("        (1000, -200), (1000, -200),"), "{text}");
    }
}
