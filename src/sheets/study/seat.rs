//! What was noted sitting in the boat, and the body that followed, for other programs.

use serde::Serialize;

use super::label;
use crate::plan::{GearId, Plan};
use crate::sheets::number::{At, Number};
use crate::study::Study;
use crate::study::body::pose::Pose;
use crate::study::seat_test::{Change, Tried};

#[derive(Serialize)]
pub(super) struct SeatTestSheet<'a> {
    arm_mm: Number,
    lean_limit_deg: Number,
    twist_limit_deg: Number,
    refit: RefitSheet,
    residual_mm: Number,
    readings: Vec<TriedSheet<'a>>,
    bands: Vec<ChangeSheet<'a>>,
    seated: PoseSheet,
    standing: PoseSheet,
}

/// By how much the body differs from the one without seat tests.
#[derive(Serialize)]
struct RefitSheet {
    arm_mm: Number,
    lean_deg: Number,
    twist_deg: Number,
    eye_up_mm: Number,
    eye_aft_mm: Number,
}

#[derive(Serialize)]
struct TriedSheet<'a> {
    reading: usize,
    gear: GearId,
    label: &'a str,
    said: &'static str,
    seen: Option<bool>,
    at: At,
    before_mm: Number,
    residual_mm: Number,
    against_reading: Option<usize>,
    eye_taped_mm: Option<Number>,
    eye_after_mm: Option<Number>,
}

#[derive(Serialize)]
struct ChangeSheet<'a> {
    gear: GearId,
    label: &'a str,
    before: &'static str,
    after: &'static str,
}

/// Points of the body; pairs are port, then starboard.
#[derive(Serialize)]
struct PoseSheet {
    hip: At,
    shoulders: [At; 2],
    elbows: [At; 2],
    hands: [At; 2],
    chest: At,
    eye: At,
    head_top: At,
    knee: At,
    foot: At,
}

impl<'a> SeatTestSheet<'a> {
    pub(super) fn of(plan: &'a Plan, study: &Study) -> Self {
        let (test, body) = (&study.seat_test, &study.seat_test.body);
        let tried = |tried: &Tried| TriedSheet {
            reading: tried.index + 1,
            gear: tried.gear,
            label: label(plan, tried.gear),
            said: tried.said.word(),
            seen: tried.seen,
            at: tried.at.into(),
            before_mm: tried.before_mm.into(),
            residual_mm: tried.miss_mm.into(),
            against_reading: tried.against.map(|index| index + 1),
            eye_taped_mm: tried.eye_mm.map(|(taped, _)| taped.into()),
            eye_after_mm: tried.eye_mm.map(|(_, after)| after.into()),
        };
        let change = |change: &Change| ChangeSheet {
            gear: change.gear,
            label: label(plan, change.gear),
            before: change.before.word(),
            after: change.after.word(),
        };
        Self {
            arm_mm: body.grip.into(),
            lean_limit_deg: body.lean_limit_deg.into(),
            twist_limit_deg: body.twist_limit_deg.into(),
            refit: RefitSheet {
                arm_mm: test.refit.arm_mm.into(),
                lean_deg: test.refit.lean_deg.into(),
                twist_deg: test.refit.twist_deg.into(),
                eye_up_mm: test.refit.eye_up_mm.into(),
                eye_aft_mm: test.refit.eye_aft_mm.into(),
            },
            residual_mm: test.residual_mm().into(),
            readings: test.tried.iter().map(tried).collect(),
            bands: test.bands.iter().map(change).collect(),
            seated: Pose::seated(body).into(),
            standing: Pose::standing(plan, body).into(),
        }
    }
}

impl From<Pose> for PoseSheet {
    fn from(pose: Pose) -> Self {
        Self {
            hip: pose.hip.into(),
            shoulders: pose.shoulders.map(At::from),
            elbows: pose.elbows.map(At::from),
            hands: pose.hands.map(At::from),
            chest: pose.chest.into(),
            eye: pose.eye.into(),
            head_top: pose.head_top.into(),
            knee: pose.knee.into(),
            foot: pose.foot.into(),
        }
    }
}
