//! A partner tries something: edits on a copy of the plan, to be suggested or dropped.

use crate::plan::parts::PartKey;
use crate::plan::{Anchor, Plan};
use crate::session::Session;
use crate::tui::app::{Editor, Overlay};

/// What lies aside while a partner tries something on a copy.
#[derive(Clone, Debug)]
pub struct Draft {
    /// The plan that is reviewed; it goes on changing where its owner changes it.
    pub aside: Session,
    /// Why that can only be looked at.
    pub read_only: Option<String>,
}

impl Editor {
    /// Lays the reviewed plan aside and goes on with a copy that may be changed.
    pub fn start_draft(&mut self) {
        let copy = Session::new(self.session.plan().clone(), self.session.tape());
        let aside = std::mem::replace(&mut self.session, copy);
        self.draft = Some(Draft { aside, read_only: self.file.read_only.take() });
    }

    /// Drops the copy and shows the reviewed plan again.
    pub fn end_draft(&mut self) {
        let Some(draft) = self.draft.take() else { return };
        let revision = self.session.revision();
        self.session = draft.aside;
        // Pictures made of the copy must not be taken for pictures of the plan.
        self.session.later_than(revision);
        self.file.read_only = draft.read_only;
        (self.hand, self.chosen, self.carried) = (None, None, None);
        self.lay_nothing_beside();
    }

    /// The session of the plan in the file, whatever is tried on a copy.
    pub fn filed(&mut self) -> &mut Session {
        match &mut self.draft {
            Some(draft) => &mut draft.aside,
            None => &mut self.session,
        }
    }

    /// The plan in the file, whatever is tried on a copy.
    pub fn reviewed(&self) -> &Plan {
        self.draft.as_ref().map_or(&self.session, |draft| &draft.aside).plan()
    }

    /// Shows another plan in place of the one in the file: somebody else changed it.
    pub fn replace(&mut self, plan: Plan) {
        if *self.filed().plan() == plan {
            return;
        }
        self.filed().follow(plan);
        match self.draft {
            None => (self.hand, self.chosen) = (None, None),
            // The copy is compared with the plan as it was.
            Some(_) => self.lay_nothing_beside(),
        }
    }

    fn lay_nothing_beside(&mut self) {
        self.compared = None;
        self.overlay = self.overlay.filter(|laid| *laid != Overlay::Compared);
    }

    /// What a suggestion is pinned to: the first thing of the reviewed plan that it changes, else the cursor.
    pub fn tried_on(&self) -> Anchor {
        let before = self.reviewed();
        let anchor = |key: PartKey| match key {
            PartKey::Gear(id) if before.gear(id).is_some() => Some(Anchor::Gear(id)),
            PartKey::Hole(id) if before.penetration(id).is_some() => Some(Anchor::Hole(id)),
            PartKey::Cable(id) if before.wiring.cables.iter().any(|cable| cable.id == id) => Some(Anchor::Cable(id)),
            _ => None,
        };
        let mut changed = before.differences(self.session.plan()).into_iter();
        changed.find_map(|part| anchor(part.key())).unwrap_or(Anchor::Spot(self.cursor))
    }
}
