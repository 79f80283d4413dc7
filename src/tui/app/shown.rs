//! Which pictures are shown, and what has the keys.

use crate::tui::action::Action;
use crate::tui::panels::PanelKind;

/// What lies over the deck.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Overlay {
    /// What is inside the hull.
    Inside,
    /// Bands of reach.
    Reach,
    /// Envelopes of motions.
    Envelopes,
    /// Holes alone.
    Holes,
    /// Where the water is.
    Water,
    /// The ways of cables.
    Cables,
    /// Where things stood in another state of the plan.
    Compared,
}

impl Overlay {
    /// What an action lays over the deck; nothing for all other actions.
    pub fn of(action: Action) -> Option<Self> {
        Some(match action {
            Action::ShowInside => Self::Inside,
            Action::ShowReach => Self::Reach,
            Action::ShowEnvelopes => Self::Envelopes,
            Action::ShowHoles => Self::Holes,
            Action::ShowWater => Self::Water,
            Action::ShowCables => Self::Cables,
            Action::ShowCompared => Self::Compared,
            _ => return None,
        })
    }
}

/// What the lower picture shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum SideView {
    /// The profile where there is room for it beside everything else.
    #[default]
    Usual,
    /// The profile, before meters and findings where there is no room for all.
    Profile,
    /// The section at the cursor, likewise.
    Section,
}

/// What has the keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Focus {
    /// The deck.
    #[default]
    Deck,
    /// A panel.
    Panel(PanelKind),
    /// The findings.
    Findings,
}
