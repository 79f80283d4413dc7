//! Colour by role: what a thing is decides its colour, and how many colours there are decides how.
//!
//! Position, size and a letter carry the meaning first; a theme only adds to them, so every screen
//! stays readable in mono. Blue and orange carry the contrasts, which most colour-blind eyes keep.

use ratatui::style::{Color, Modifier, Style};

use super::palette::{DARK, LIGHT, Palette, Rgb, Tone};

/// What a cell or a pixel stands for. Later ones win where two meet in one cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Around the boat: the terminal's own background.
    Water,
    /// Deck higher than the gunwale.
    Raised,
    /// Deck at the gunwale's height.
    Deck,
    /// A shallow well.
    Shallow,
    /// A deep well.
    Deep,
    /// Deck that lies below the waterline.
    Wet,
    /// Touched upright.
    InHand,
    /// Touched with a lean.
    AtStretch,
    /// Not reached.
    OutOfReach,
    /// Faint lines: centreline, seam, the edges of zones.
    Seam,
    /// A lid.
    Lid,
    /// The rim of a hatch, an opening's edge.
    Rim,
    /// Rails, inserts, handles: what the hull has already.
    Fitting,
    /// Flotation foam.
    Foam,
    /// The seat.
    Seat,
    /// The person in it.
    Person,
    /// Where the hull meets the water.
    Waterline,
    /// The hull's outline.
    Hull,
    /// Space that must stay free.
    Envelope,
    /// Electronics.
    Screen,
    /// Batteries and what switches them.
    Power,
    /// Rod holders, nets, anchors.
    Tackle,
    /// Crates, coolers, wells.
    Stow,
    /// Motors, paddles, carts.
    Drive,
    /// Tracks, bases, glands, lights, safety.
    Fixing,
    /// The edge of any gear.
    GearRim,
    /// A bright face: a screen, a lamp.
    Face,
    /// A run of cable.
    Wire,
    /// What changed since the last edit.
    Changed,
    /// What is selected.
    Selected,
    /// Gear in hand where it fits.
    Ghost,
    /// Gear in hand where it does not fit.
    GhostStop,
    /// A hole that is closed for good.
    HolePlugged,
    /// An existing hole that serves.
    HoleReused,
    /// A hole still to be drilled.
    Hole,
    /// Frames and rules between panels.
    Frame,
    /// Text of little weight: names of zones, hints.
    Dim,
    /// Ordinary text.
    Text,
    /// Figures that are guesses.
    Guess,
    /// Figures that were measured.
    Measured,
    /// The one accent: titles, keys.
    Accent,
    /// The cursor.
    Cursor,
    /// A finding worth knowing.
    Note,
    /// A finding to think about.
    Caution,
    /// A finding that stands in the way; the only thing that may shout.
    Stop,
}

/// How many colours the terminal shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// None: bold, dim, underline and reverse only.
    Mono,
    /// The sixteen named ones.
    Sixteen,
    /// The cube of 256.
    TwoFiftySix,
    /// All of them.
    True,
}

/// What the person asked for with `--color`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum ColourChoice {
    /// Decide from the environment.
    #[default]
    Auto,
    /// Colour even when the environment says no.
    Always,
    /// No colour.
    Never,
    /// Exactly this depth.
    Exactly(Depth),
}

/// What the environment says about the terminal. Read at the rim, judged here.
#[derive(Clone, Copy, Debug, Default)]
pub struct Environment<'a> {
    /// `NO_COLOR`.
    pub no_color: Option<&'a str>,
    /// `CLICOLOR`.
    pub clicolor: Option<&'a str>,
    /// `CLICOLOR_FORCE`.
    pub clicolor_force: Option<&'a str>,
    /// `COLORTERM`.
    pub colorterm: Option<&'a str>,
    /// `TERM`.
    pub term: Option<&'a str>,
    /// `LC_ALL`, else `LC_CTYPE`, else `LANG`.
    pub locale: Option<&'a str>,
}

impl Depth {
    /// Decides the depth: the person's choice, then `NO_COLOR`, `CLICOLOR_FORCE`, `CLICOLOR`, then
    /// what `COLORTERM` and `TERM` say the terminal can do.
    pub fn choose(choice: ColourChoice, environment: &Environment<'_>) -> Self {
        let set = |value: Option<&str>| value.is_some_and(|v| !v.is_empty());
        let able = Self::able(environment);
        match choice {
            ColourChoice::Exactly(depth) => depth,
            ColourChoice::Never => Self::Mono,
            ColourChoice::Always => able.max(Self::Sixteen),
            ColourChoice::Auto if set(environment.no_color) => Self::Mono,
            ColourChoice::Auto if set(environment.clicolor_force) && environment.clicolor_force != Some("0") => {
                able.max(Self::Sixteen)
            }
            ColourChoice::Auto if environment.clicolor == Some("0") => Self::Mono,
            ColourChoice::Auto => able,
        }
    }

    fn able(environment: &Environment<'_>) -> Self {
        let term = environment.term.unwrap_or_default();
        match environment.colorterm {
            _ if term.is_empty() || term == "dumb" => Self::Mono,
            Some("truecolor" | "24bit") => Self::True,
            _ if term.ends_with("-direct") => Self::True,
            _ if term.contains("256color") => Self::TwoFiftySix,
            _ if term.starts_with("vt1") || term.starts_with("vt2") || term.ends_with("-mono") => Self::Mono,
            _ => Self::Sixteen,
        }
    }
}

/// Which of the two shipped palettes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Ground {
    /// Light on dark.
    #[default]
    Dark,
    /// Dark on light.
    Light,
}

/// A palette at a depth: asks a role, gives a style.
#[derive(Clone, Copy, Debug)]
pub struct Theme {
    depth: Depth,
    palette: &'static Palette,
}

impl Theme {
    /// A shipped palette at a depth.
    pub fn new(ground: Ground, depth: Depth) -> Self {
        let palette = match ground {
            Ground::Dark => &DARK,
            Ground::Light => &LIGHT,
        };
        Self { depth, palette }
    }

    /// The same depth on the other ground.
    #[must_use]
    pub fn switched(&self) -> Self {
        let dark = std::ptr::eq(self.palette, &raw const DARK);
        Self::new(if dark { Ground::Light } else { Ground::Dark }, self.depth)
    }

    /// How many colours it uses.
    pub fn depth(&self) -> Depth {
        self.depth
    }

    /// Text in a role, on the terminal's own background; the stop role brings its own.
    pub fn style(&self, role: Role) -> Style {
        let style = Style::new().add_modifier(weight(role));
        if self.depth == Depth::Mono {
            return style.add_modifier(mono(role));
        }
        match role {
            Role::Stop => style.fg(self.colour(Role::Text)).bg(self.colour(role)),
            _ => style.fg(self.colour(role)),
        }
    }

    /// A role's colour; the terminal's own in mono.
    pub fn colour(&self, role: Role) -> Color {
        let tone = self.palette.tone(role);
        // Sent with every step of the cursor: the short form of these two saves a third of its bytes.
        match (role, self.depth) {
            (Role::Cursor | Role::Text, Depth::True) => Color::Indexed(tone.index),
            _ => self.shown(tone),
        }
    }

    /// The colour of a pixel of which `over` covers some quarters and `under` the rest.
    pub(super) fn mixed(&self, over: Role, under: Role, quarters: u8) -> Color {
        let blendable = matches!(self.depth, Depth::True | Depth::TwoFiftySix);
        match quarters {
            0 => self.colour(under),
            4.. => self.colour(over),
            _ if !blendable => self.colour(if quarters >= 2 { over } else { under }),
            _ => {
                let rgb = self.palette.rgb(over).mixed(self.palette.rgb(under), f64::from(quarters) / 4.0);
                self.parts(rgb)
            }
        }
    }

    /// The colour half way between two: for pixels that share half a cell.
    pub(super) fn between(&self, a: Color, b: Color) -> Color {
        if a == b {
            return a;
        }
        match self.depth {
            Depth::True | Depth::TwoFiftySix => self.parts(self.palette.rgb_of(a).mixed(self.palette.rgb_of(b), 0.5)),
            Depth::Mono | Depth::Sixteen => a,
        }
    }

    fn shown(&self, tone: Tone) -> Color {
        match (self.depth, tone.rgb) {
            (Depth::Mono, _) | (_, None) => Color::Reset,
            (Depth::Sixteen, _) => tone.named,
            (Depth::TwoFiftySix, _) => Color::Indexed(tone.index),
            (_, Some(rgb)) => self.parts(rgb),
        }
    }

    fn parts(&self, rgb: Rgb) -> Color {
        match self.depth {
            Depth::True => Color::Rgb(rgb.0, rgb.1, rgb.2),
            _ => Color::Indexed(rgb.indexed()),
        }
    }
}

/// Weight of text in a role, at every depth.
fn weight(role: Role) -> Modifier {
    match role {
        Role::Stop | Role::Cursor | Role::Selected | Role::Changed => Modifier::BOLD,
        _ => Modifier::empty(),
    }
}

/// What stands in for colour in mono.
fn mono(role: Role) -> Modifier {
    match role {
        Role::Stop | Role::Cursor => Modifier::REVERSED,
        Role::GhostStop => Modifier::REVERSED.union(Modifier::BOLD),
        Role::Caution | Role::Hole | Role::Ghost | Role::Accent => Modifier::BOLD,
        Role::Selected | Role::Changed | Role::Measured => Modifier::UNDERLINED,
        Role::Dim | Role::Frame | Role::Seam | Role::HolePlugged | Role::Guess => Modifier::DIM,
        _ => Modifier::empty(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(choice: ColourChoice, environment: Environment<'_>, depth: Depth) {
        assert_eq!(Depth::choose(choice, &environment), depth, "{choice:?} {environment:?}");
    }

    #[test]
    fn the_flag_wins_then_no_color_then_what_the_terminal_can() {
        let xterm = Environment { term: Some("xterm-256color"), ..Default::default() };
        let rich = Environment { colorterm: Some("truecolor"), ..xterm };
        let refused = Environment { no_color: Some("1"), ..rich };
        check(ColourChoice::Auto, xterm, Depth::TwoFiftySix);
        check(ColourChoice::Auto, rich, Depth::True);
        check(ColourChoice::Auto, refused, Depth::Mono);
        check(ColourChoice::Always, refused, Depth::True);
        check(ColourChoice::Exactly(Depth::Sixteen), refused, Depth::Sixteen);
        check(ColourChoice::Never, rich, Depth::Mono);
        check(ColourChoice::Auto, Environment { no_color: Some(""), ..rich }, Depth::True);
        check(ColourChoice::Auto, Environment { clicolor: Some("0"), ..rich }, Depth::Mono);
        check(ColourChoice::Auto, Environment { clicolor_force: Some("1"), ..Default::default() }, Depth::Sixteen);
        check(ColourChoice::Auto, Environment { term: Some("linux"), ..Default::default() }, Depth::Sixteen);
        check(ColourChoice::Auto, Environment { term: Some("dumb"), ..Default::default() }, Depth::Mono);
        check(ColourChoice::Auto, Environment::default(), Depth::Mono);
    }

    #[test]
    fn without_colour_no_style_carries_one() {
        let theme = Theme::new(Ground::Dark, Depth::Mono);
        for role in super::super::palette::ALL {
            let style = theme.style(role);
            assert!(style.bg.is_none() && style.fg.is_none(), "{role:?} {style:?}");
        }
        assert!(theme.style(Role::Stop).add_modifier.contains(Modifier::REVERSED));
    }

    #[test]
    fn only_a_stop_brings_its_own_background() {
        for ground in [Ground::Dark, Ground::Light] {
            let theme = Theme::new(ground, Depth::True);
            for role in super::super::palette::ALL {
                assert_eq!(theme.style(role).bg.is_some(), role == Role::Stop, "{role:?}");
            }
        }
    }
}
