//! Setting the hull's form by a tape.

use std::sync::Arc;

use super::{Refusal, refuse, sound};
use crate::plan::{FigureRef, Plan, Seat, SeatRails, Tape};
use crate::units::Quantity;

/// The hull takes the form of the tape, and the seat stays in the notch it was in. Gear and holes stay where they
/// are: their places were measured on the boat, not on the drawing of it.
pub(super) fn set(plan: &mut Plan, tape: &Tape) -> Result<(), Refusal> {
    let hull = plan.hull.taped(tape.clone());
    if hull == *plan.hull {
        return refuse("the tape says what is in the plan already");
    }
    plan.angler.seat = same_notch(&plan.angler.seat, &plan.hull.seat, &hull.seat);
    plan.hull = Arc::new(hull);
    sound(plan)
}

/// Refuses to set by hand what the tape says of the hull.
pub(super) fn spares(plan: &Plan, figure: FigureRef) -> Result<(), Refusal> {
    let taped = plan.hull.form.tape().is_some() && matches!(figure, FigureRef::HullLength | FigureRef::HullBeam);
    if taped { refuse(format!("the {} comes from the tape: measure the hull again", figure.label())) } else { Ok(()) }
}

/// The seat in the notch of the new rails that it was in on the old ones.
fn same_notch(seat: &Seat, old: &SeatRails, new: &SeatRails) -> Seat {
    if old.back_aft == new.back_aft && old.back_fore == new.back_fore {
        return seat.clone();
    }
    let notch = ((seat.back - old.back_aft).base() / old.step.base()).round();
    let last = ((new.back_fore - new.back_aft).base() / new.step.base()).floor();
    let notch = if notch.is_finite() { notch.min(last).max(0.0) } else { 0.0 };
    Seat { back: new.back_aft + new.step.scaled(notch), ..seat.clone() }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::catalogue::new_plan;
    use crate::edit::{Edit, apply};
    use crate::plan::{AnyQuantity, Gauge, SeatHeight, Station};
    use crate::units::{Length, Origin};

    fn taken(mm: f64) -> Gauge {
        Gauge::measured(Length::mm(mm))
    }

    fn plan() -> Plan {
        let seat =
            Seat { back: Length::mm(1355.0), height: SeatHeight::Low, ..new_plan("angler-11").unwrap().angler.seat };
        apply(&new_plan("angler-11").unwrap(), &Edit::SetSeat { seat }).unwrap()
    }

    fn set(tape: Tape) -> Result<Plan, Refusal> {
        apply(&plan(), &Edit::SetTape { tape: Box::new(tape) })
    }

    #[test]
    fn the_hull_is_measured_and_the_seat_stays_in_its_notch() {
        let longer = set(Tape { length: taken(3685.0), ..Tape::default() }).unwrap();
        assert_eq!(longer.hull.length.value, Length::mm(3685.0));
        assert!(longer.hull.form.tape().unwrap().lines().is_some());
        // By hand: rails from 1305 to 1510 mm by 25, third notch; a tenth further forward they begin at 1435.5.
        let seat = longer.angler.seat.back.to_mm();
        assert!((seat - 1485.5).abs() < 1e-9, "{seat}");
        assert_eq!(longer.validate(), Ok(()));
    }

    #[test]
    fn length_and_beam_of_a_taped_hull_are_changed_by_the_tape_alone() {
        let set_to = |plan: &Plan, figure| {
            let value = AnyQuantity::Length(Length::mm(900.0));
            apply(plan, &Edit::SetFigure { figure, value, origin: Origin::Measured }).map(|_| ()).map_err(|why| why.0)
        };
        let taped = set(Tape { length: taken(3685.0), ..Tape::default() }).unwrap();
        let refused = Err("the beam comes from the tape: measure the hull again".to_string());
        assert_eq!(set_to(&taped, FigureRef::HullBeam), refused);
        assert_eq!(set_to(&taped, FigureRef::HullWaterline), Ok(()));
        assert_eq!(set_to(&plan(), FigureRef::HullBeam), Ok(()));
    }

    #[test]
    fn a_tape_that_makes_no_boat_is_refused_and_says_why() {
        let says = |tape: Tape| set(tape).unwrap_err().to_string();
        let backwards = [1700.0, 900.0].map(|x| Station::at(Length::mm(x))).to_vec();
        assert_eq!(
            says(Tape { stations: backwards, ..Tape::default() }),
            "hull form, station 2, x: stations must run from aft to forward, each further than the one before"
        );
        let one = vec![Station::at(Length::mm(900.0))];
        assert_eq!(
            says(Tape { stations: one, ..Tape::default() }),
            "hull form, stations: 1 stations; a tape has 2 to 9"
        );
        assert_eq!(
            says(Tape { length: taken(134.0), ..Tape::default() }),
            "hull, length: length must be between 1500 and 7000 mm"
        );
        assert_eq!(
            says(Tape { length: taken(f64::NAN), ..Tape::default() }),
            "hull form, length: NaN mm is outside -20000 to 20000 mm"
        );
        let taped = set(Tape { length: taken(3685.0), ..Tape::default() }).unwrap();
        let same = Edit::SetTape { tape: Box::new(taped.hull.form.tape().unwrap().clone()) };
        assert_eq!(apply(&taped, &same).unwrap_err().to_string(), "the tape says what is in the plan already");
    }
}
