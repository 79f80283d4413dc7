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
    /// `LC_ALL`.
    pub lc_all: Option<&'a str>,
    /// `LC_CTYPE`.
    pub lc_ctype: Option<&'a str>,
    /// `LANG`.
    pub lang: Option<&'a str>,
}

impl Environment<'_> {
    /// The variable that says which letters there are, and whether all of them are: the first that is set of
    /// `LC_ALL`, `LC_CTYPE`, `LANG`.
    pub fn utf8(&self) -> (&'static str, bool) {
        let named = [("LC_ALL", self.lc_all), ("LC_CTYPE", self.lc_ctype), ("LANG", self.lang)];
        let (name, value) = named.into_iter().find(|(_, value)| value.is_some()).unwrap_or(("LANG", None));
        let locale = value.unwrap_or_default().to_ascii_lowercase();
        (name, locale.contains("utf-8") || locale.contains("utf8"))
    }
}

/// What decided how the screen looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decider {
    /// The person, by a flag.
    Flag,
    /// This variable: what it says, or that it is not set.
    Variable(&'static str),
}

impl Depth {
    /// Decides the depth, and says what decided: the person's choice, then `NO_COLOR`, `CLICOLOR_FORCE`, `CLICOLOR`,
    /// then what `COLORTERM` and `TERM` say the terminal can do.
    pub fn choose(choice: ColourChoice, environment: &Environment<'_>) -> (Self, Decider) {
        let set = |value: Option<&str>| value.is_some_and(|v| !v.is_empty());
        let forced = set(environment.clicolor_force) && environment.clicolor_force != Some("0");
        let (able, by) = Self::able(environment);
        match choice {
            ColourChoice::Exactly(depth) => (depth, Decider::Flag),
            ColourChoice::Never => (Self::Mono, Decider::Flag),
            ColourChoice::Always => (able.max(Self::Sixteen), Decider::Flag),
            ColourChoice::Auto if set(environment.no_color) => (Self::Mono, Decider::Variable("NO_COLOR")),
            ColourChoice::Auto if forced && able < Self::Sixteen => {
                (Self::Sixteen, Decider::Variable("CLICOLOR_FORCE"))
            }
            ColourChoice::Auto if environment.clicolor == Some("0") && !forced => {
                (Self::Mono, Decider::Variable("CLICOLOR"))
            }
            ColourChoice::Auto => (able, by),
        }
    }

    fn able(environment: &Environment<'_>) -> (Self, Decider) {
        let term = environment.term.unwrap_or_default();
        let by_term = |depth| (depth, Decider::Variable("TERM"));
        match environment.colorterm {
            _ if term.is_empty() || term == "dumb" => by_term(Self::Mono),
            Some("truecolor" | "24bit") => (Self::True, Decider::Variable("COLORTERM")),
            _ if term.ends_with("-direct") => by_term(Self::True),
            _ if term.contains("256color") => by_term(Self::TwoFiftySix),
            _ if term.starts_with("vt1") || term.starts_with("vt2") || term.ends_with("-mono") => by_term(Self::Mono),
            _ => by_term(Self::Sixteen),
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

    fn check(choice: ColourChoice, environment: Environment<'_>, depth: Depth, by: &'static str) {
        let by = if by == "flag" { Decider::Flag } else { Decider::Variable(by) };
        assert_eq!(Depth::choose(choice, &environment), (depth, by), "{choice:?} {environment:?}");
    }

    #[test]
    fn the_flag_wins_then_no_color_then_what_the_terminal_can() {
        let xterm = Environment { term: Some("xterm-256color"), ..Default::default() };
        let rich = Environment { colorterm: Some("truecolor"), ..xterm };
        let refused = Environment { no_color: Some("1"), ..rich };
        let nothing = Environment::default();
        check(ColourChoice::Auto, xterm, Depth::TwoFiftySix, "TERM");
        check(ColourChoice::Auto, rich, Depth::True, "COLORTERM");
        check(ColourChoice::Auto, refused, Depth::Mono, "NO_COLOR");
        check(ColourChoice::Always, refused, Depth::True, "flag");
        check(ColourChoice::Exactly(Depth::Sixteen), refused, Depth::Sixteen, "flag");
        check(ColourChoice::Never, rich, Depth::Mono, "flag");
        check(ColourChoice::Auto, Environment { no_color: Some(""), ..rich }, Depth::True, "COLORTERM");
        check(ColourChoice::Auto, Environment { clicolor: Some("0"), ..rich }, Depth::Mono, "CLICOLOR");
        let forced = Environment { clicolor_force: Some("1"), ..nothing };
        check(ColourChoice::Auto, forced, Depth::Sixteen, "CLICOLOR_FORCE");
        let both = Environment { clicolor: Some("0"), clicolor_force: Some("1"), ..rich };
        check(ColourChoice::Auto, both, Depth::True, "COLORTERM");
        check(ColourChoice::Auto, Environment { term: Some("linux"), ..nothing }, Depth::Sixteen, "TERM");
        check(ColourChoice::Auto, Environment { term: Some("dumb"), ..nothing }, Depth::Mono, "TERM");
        check(ColourChoice::Auto, nothing, Depth::Mono, "TERM");
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
