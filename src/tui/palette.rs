//! The two palettes: one row a role, with its full colour and its stand-ins among 256 and sixteen.
//!
//! The deck is a warm neutral
//! and gear one cool family on it; red is kept for stops.

use ratatui::style::Color;

use super::theme::Role;

/// A colour by its parts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Rgb(pub u8, pub u8, pub u8);

/// A role's colour: full, and named for terminals with sixteen. No full colour: the terminal's own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Tone {
    /// The colour proper.
    pub rgb: Option<Rgb>,
    /// The one of 256 that stands in.
    pub index: u8,
    /// The one of sixteen that stands in.
    pub named: Color,
}

/// A set of tones, and the background that blends are made against.
#[derive(Debug)]
pub(super) struct Palette {
    /// What the terminal's own background is taken to be where a line fades into it.
    ground: Rgb,
    tone: fn(Role) -> Tone,
}

impl Palette {
    /// The tone of a role.
    pub(super) fn tone(&self, role: Role) -> Tone {
        (self.tone)(role)
    }

    /// The colour of a role, taking the terminal's background for what it likely is.
    pub(super) fn rgb(&self, role: Role) -> Rgb {
        self.tone(role).rgb.unwrap_or(self.ground)
    }

    /// The parts of a colour this palette made.
    pub(super) fn rgb_of(&self, colour: Color) -> Rgb {
        match colour {
            Color::Rgb(r, g, b) => Rgb(r, g, b),
            Color::Indexed(index) => Rgb::from_index(index),
            _ => self.ground,
        }
    }
}

impl Rgb {
    /// A mix of two colours, `share` of this one.
    pub(super) fn mixed(self, other: Self, share: f64) -> Self {
        // Squares stand in for the eye's response: a line half on a pixel looks half as bright.
        let part =
            |a: u8, b: u8| (f64::from(a).powi(2) * share + f64::from(b).powi(2) * (1.0 - share)).sqrt().round() as u8;
        Self(part(self.0, other.0), part(self.1, other.1), part(self.2, other.2))
    }

    /// The nearest of the 256. Blends of little colour go to the grey ramp: the cube's near-greys
    /// are tinted, and a fading line would change its hue at every step.
    pub(super) fn indexed(self) -> u8 {
        let (most, least) = (self.0.max(self.1).max(self.2), self.0.min(self.1).min(self.2));
        if most - least < 60 {
            let mean = (u16::from(self.0) + u16::from(self.1) + u16::from(self.2)) / 3;
            return 232 + (mean.saturating_sub(3) / 10).min(23) as u8;
        }
        let step = |v: u8| LEVELS.iter().enumerate().min_by_key(|(_, l)| v.abs_diff(**l)).map_or(0, |(i, _)| i as u8);
        16 + 36 * step(self.0) + 6 * step(self.1) + step(self.2)
    }

    fn from_index(index: u8) -> Self {
        match index {
            232.. => {
                let v = 8 + 10 * (index - 232);
                Self(v, v, v)
            }
            16.. => {
                let i = usize::from(index - 16);
                Self(LEVELS[i / 36], LEVELS[i / 6 % 6], LEVELS[i % 6])
            }
            _ => Self(0, 0, 0),
        }
    }
}

/// The levels of the colour cube.
const LEVELS: [u8; 6] = [0, 95, 135, 175, 215, 255];

const fn tone([r, g, b]: [u8; 3], index: u8, named: Color) -> Tone {
    Tone { rgb: Some(Rgb(r, g, b)), index, named }
}

/// The terminal's own colour.
const OWN: Tone = Tone { rgb: None, index: 0, named: Color::Reset };

/// Light on dark.
pub(super) static DARK: Palette = Palette { ground: Rgb(16, 20, 26), tone: dark };

/// Dark on light.
pub(super) static LIGHT: Palette = Palette { ground: Rgb(250, 250, 248), tone: light };

fn dark(role: Role) -> Tone {
    match role {
        Role::Water => OWN,
        Role::Raised => tone([0x45, 0x41, 0x3b], 238, Color::Reset),
        Role::Deck => tone([0x3a, 0x37, 0x32], 237, Color::Reset),
        Role::Shallow => tone([0x2f, 0x2d, 0x2a], 236, Color::Reset),
        Role::Deep => tone([0x25, 0x24, 0x23], 235, Color::Reset),
        Role::Wet => tone([0x1f, 0x34, 0x4a], 17, Color::Blue),
        Role::InHand => tone([0x2c, 0x4f, 0x5e], 23, Color::Blue),
        Role::AtStretch => tone([0x5a, 0x4a, 0x2a], 58, Color::Yellow),
        Role::OutOfReach => tone([0x2b, 0x2a, 0x29], 235, Color::Reset),
        Role::Seam => tone([0x57, 0x52, 0x4a], 239, Color::DarkGray),
        Role::Lid => tone([0x4c, 0x48, 0x41], 238, Color::Reset),
        Role::Rim => tone([0x85, 0x7d, 0x70], 244, Color::Gray),
        Role::Fitting => tone([0x9a, 0x92, 0x84], 246, Color::Gray),
        Role::Foam => tone([0x50, 0x5a, 0x55], 240, Color::DarkGray),
        Role::Seat => tone([0x45, 0x41, 0x3a], 238, Color::Reset),
        Role::Person => tone([0x6c, 0x65, 0x5b], 242, Color::DarkGray),
        Role::Waterline => tone([0x4f, 0x9b, 0xd6], 68, Color::LightBlue),
        Role::Hull => tone([0xe8, 0xd9, 0xb8], 254, Color::White),
        Role::Envelope => tone([0x9a, 0x78, 0x3a], 137, Color::Yellow),
        Role::Screen => tone([0x2e, 0x6b, 0x84], 24, Color::Blue),
        Role::Power => tone([0x4a, 0x5f, 0x94], 61, Color::Blue),
        Role::Tackle => tone([0x3b, 0x73, 0x6b], 30, Color::Blue),
        Role::Stow => tone([0x4b, 0x65, 0x70], 66, Color::Blue),
        Role::Drive => tone([0x5d, 0x68, 0x80], 60, Color::Blue),
        Role::Fixing => tone([0x5c, 0x70, 0x7c], 67, Color::Blue),
        Role::GearRim => tone([0x86, 0xb4, 0xc5], 110, Color::LightCyan),
        Role::Face => tone([0xd8, 0xf3, 0xff], 195, Color::White),
        Role::Wire => tone([0xc9, 0x8f, 0x5a], 173, Color::Yellow),
        Role::Changed => tone([0xff, 0xff, 0xff], 255, Color::White),
        Role::Selected => tone([0xff, 0xff, 0xff], 255, Color::White),
        Role::Ghost => tone([0x9f, 0xdc, 0xf0], 153, Color::LightCyan),
        Role::GhostStop => tone([0xff, 0x5a, 0x4d], 203, Color::LightRed),
        Role::HolePlugged => tone([0x8a, 0x84, 0x78], 244, Color::DarkGray),
        Role::HoleReused => tone([0x8f, 0xc4, 0xff], 117, Color::LightBlue),
        Role::Hole => tone([0xff, 0xf4, 0xd6], 230, Color::White),
        Role::Frame => tone([0x4a, 0x52, 0x5b], 239, Color::DarkGray),
        Role::Dim => tone([0x93, 0x90, 0x88], 245, Color::DarkGray),
        Role::Text => tone([0xee, 0xed, 0xe8], 255, Color::White),
        Role::Guess => tone([0xd3, 0xa8, 0x6c], 179, Color::Yellow),
        Role::Measured => tone([0x8f, 0xc4, 0xff], 117, Color::LightBlue),
        Role::Accent => tone([0x7f, 0xd6, 0xec], 117, Color::LightCyan),
        Role::Cursor => tone([0x9a, 0xee, 0xff], 123, Color::LightCyan),
        Role::Note => tone([0x6f, 0xa6, 0xb4], 73, Color::Cyan),
        Role::Caution => tone([0xf5, 0xb5, 0x3d], 215, Color::LightYellow),
        Role::Stop => tone([0xd9, 0x26, 0x1c], 160, Color::Red),
    }
}

fn light(role: Role) -> Tone {
    match role {
        Role::Water => OWN,
        Role::Raised => tone([0xf4, 0xee, 0xe0], 255, Color::Reset),
        Role::Deck => tone([0xea, 0xe3, 0xd3], 254, Color::Reset),
        Role::Shallow => tone([0xdd, 0xd5, 0xc3], 252, Color::Reset),
        Role::Deep => tone([0xcf, 0xc7, 0xb4], 251, Color::Reset),
        Role::Wet => tone([0xb9, 0xd3, 0xea], 152, Color::Cyan),
        Role::InHand => tone([0xb4, 0xd8, 0xe6], 152, Color::Cyan),
        Role::AtStretch => tone([0xf0, 0xd9, 0xa0], 222, Color::Yellow),
        Role::OutOfReach => tone([0xdc, 0xd8, 0xd0], 253, Color::Reset),
        Role::Seam => tone([0xb8, 0xae, 0x9a], 248, Color::Gray),
        Role::Lid => tone([0xe0, 0xd6, 0xc0], 252, Color::Reset),
        Role::Rim => tone([0x8a, 0x7f, 0x6a], 244, Color::DarkGray),
        Role::Fitting => tone([0x7c, 0x73, 0x62], 242, Color::DarkGray),
        Role::Foam => tone([0xc6, 0xd2, 0xc8], 251, Color::Gray),
        Role::Seat => tone([0xb9, 0xae, 0x98], 248, Color::Gray),
        Role::Person => tone([0x9a, 0x90, 0x7c], 245, Color::Gray),
        Role::Waterline => tone([0x1f, 0x6f, 0xb5], 25, Color::Blue),
        Role::Hull => tone([0x5a, 0x47, 0x2a], 239, Color::Black),
        Role::Envelope => tone([0xc0, 0x8a, 0x2a], 136, Color::Yellow),
        Role::Screen => tone([0x9c, 0xcb, 0xde], 116, Color::Cyan),
        Role::Power => tone([0xb0, 0xc0, 0xe8], 147, Color::Blue),
        Role::Tackle => tone([0xa6, 0xd3, 0xc8], 115, Color::Cyan),
        Role::Stow => tone([0xb4, 0xcb, 0xd3], 152, Color::Cyan),
        Role::Drive => tone([0xbc, 0xc6, 0xd8], 146, Color::Blue),
        Role::Fixing => tone([0xbd, 0xcd, 0xd6], 153, Color::Cyan),
        Role::GearRim => tone([0x2f, 0x6f, 0x87], 24, Color::Blue),
        Role::Face => tone([0x0b, 0x4a, 0x66], 23, Color::Blue),
        Role::Wire => tone([0x9a, 0x5a, 0x1e], 94, Color::Red),
        Role::Changed => tone([0x00, 0x00, 0x00], 232, Color::Black),
        Role::Selected => tone([0x00, 0x00, 0x00], 232, Color::Black),
        Role::Ghost => tone([0x1c, 0x7f, 0xa3], 31, Color::Blue),
        Role::GhostStop => tone([0xc4, 0x20, 0x18], 160, Color::Red),
        Role::HolePlugged => tone([0x8d, 0x87, 0x7a], 244, Color::Gray),
        Role::HoleReused => tone([0x1d, 0x57, 0xb0], 25, Color::Blue),
        Role::Hole => tone([0x2a, 0x1c, 0x05], 16, Color::Black),
        Role::Frame => tone([0xb4, 0xb8, 0xbc], 250, Color::Gray),
        Role::Dim => tone([0x70, 0x6c, 0x63], 242, Color::DarkGray),
        Role::Text => tone([0x1d, 0x1c, 0x1a], 234, Color::Black),
        Role::Guess => tone([0x8a, 0x5a, 0x10], 94, Color::DarkGray),
        Role::Measured => tone([0x1d, 0x57, 0xb0], 25, Color::Blue),
        Role::Accent => tone([0x0b, 0x6a, 0x86], 24, Color::Blue),
        Role::Cursor => tone([0x00, 0x5f, 0x87], 24, Color::Blue),
        Role::Note => tone([0x2f, 0x72, 0x80], 24, Color::Cyan),
        Role::Caution => tone([0xa8, 0x62, 0x00], 130, Color::Magenta),
        Role::Stop => tone([0xff, 0x8a, 0x7e], 210, Color::LightRed),
    }
}

/// All roles.
#[cfg(test)]
pub(super) const ALL: [Role; 45] = [
    Role::Water,
    Role::Raised,
    Role::Deck,
    Role::Shallow,
    Role::Deep,
    Role::Wet,
    Role::InHand,
    Role::AtStretch,
    Role::OutOfReach,
    Role::Seam,
    Role::Lid,
    Role::Rim,
    Role::Fitting,
    Role::Foam,
    Role::Seat,
    Role::Person,
    Role::Waterline,
    Role::Hull,
    Role::Envelope,
    Role::Screen,
    Role::Power,
    Role::Tackle,
    Role::Stow,
    Role::Drive,
    Role::Fixing,
    Role::GearRim,
    Role::Face,
    Role::Wire,
    Role::Changed,
    Role::Selected,
    Role::Ghost,
    Role::GhostStop,
    Role::HolePlugged,
    Role::HoleReused,
    Role::Hole,
    Role::Frame,
    Role::Dim,
    Role::Text,
    Role::Guess,
    Role::Measured,
    Role::Accent,
    Role::Cursor,
    Role::Note,
    Role::Caution,
    Role::Stop,
];

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Relative luminance after WCAG 2.1, definition "relative luminance".
    fn luminance(rgb: Rgb) -> f64 {
        let part = |v: u8| {
            let v = f64::from(v) / 255.0;
            if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * part(rgb.0) + 0.7152 * part(rgb.1) + 0.0722 * part(rgb.2)
    }

    fn contrast(a: Rgb, b: Rgb) -> f64 {
        let (high, low) = (luminance(a).max(luminance(b)), luminance(a).min(luminance(b)));
        (high + 0.05) / (low + 0.05)
    }

    #[test]
    fn tags_are_readable_on_every_sort_of_gear_and_on_a_stop() {
        for palette in [&DARK, &LIGHT] {
            for fill in
                [Role::Screen, Role::Power, Role::Tackle, Role::Stow, Role::Drive, Role::Fixing, Role::Deck, Role::Stop]
            {
                let found = contrast(palette.rgb(Role::Text), palette.rgb(fill));
                assert!(found >= 4.0, "{fill:?}: {found:.1}");
            }
        }
    }

    #[test]
    fn the_stand_ins_keep_tags_readable() {
        for palette in [&DARK, &LIGHT] {
            let text = Rgb::from_index(palette.tone(Role::Text).index);
            for fill in [Role::Screen, Role::Power, Role::Tackle, Role::Stow, Role::Drive, Role::Fixing, Role::Stop] {
                let found = contrast(text, Rgb::from_index(palette.tone(fill).index));
                assert!(found >= 3.0, "{fill:?}: {found:.1}");
            }
        }
    }

    #[test]
    fn bands_differ_in_lightness_or_in_blue_against_orange() {
        for palette in [&DARK, &LIGHT] {
            let (near, far) = (palette.rgb(Role::InHand), palette.rgb(Role::AtStretch));
            let warm = |c: Rgb| i32::from(c.0) - i32::from(c.2);
            assert!(warm(far) - warm(near) > 60, "{near:?} {far:?}");
        }
    }

    #[test]
    fn outlines_stand_out_from_water_and_deck() {
        for palette in [&DARK, &LIGHT] {
            assert!(contrast(palette.rgb(Role::Hull), palette.rgb(Role::Water)) > 6.0);
            assert!(contrast(palette.rgb(Role::Hull), palette.rgb(Role::Deck)) > 6.0);
            assert!(contrast(palette.rgb(Role::GearRim), palette.rgb(Role::Deck)) > 3.0);
        }
    }

    proptest! {
        #[test]
        fn the_stand_in_among_256_is_near(r: u8, g: u8, b: u8) {
            let c = Rgb::from_index(Rgb(r, g, b).indexed());
            prop_assert!(c.0.abs_diff(r) <= 60 && c.1.abs_diff(g) <= 60 && c.2.abs_diff(b) <= 60, "{c:?}");
        }
    }
}
