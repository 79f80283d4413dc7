//! Readings as edits: what is refused, what they are called, that the journal carries them.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::edit::{Edit, apply};
use gunnel::plan::{GearId, Kind, Plan, Reading, Taken, Weighed};
use gunnel::session::{Record, Session};
use gunnel::units::{Current, Length, Mass, Measure};

use crate::test_power::{add_electric, load, motor, name, plan};

fn waterline(x: f64, height: f64, load: f64) -> Taken {
    Taken::Waterline { x: Length::mm(x), height: Length::mm(height), load: Mass::kg(load) }
}

fn scale(x: f64, mass: f64) -> Taken {
    Taken::Scale { x: Length::mm(x), mass: Mass::kg(mass), of: Weighed::BareHull, planned: None }
}

fn add(date: Option<&str>, taken: Taken) -> Edit {
    Edit::AddReading { reading: Reading { date: date.map(name), taken, off: false } }
}

fn refused(plan: &Plan, edit: &Edit, why: &str) {
    let before = plan.clone();
    let refusal = apply(plan, edit).unwrap_err().to_string();
    assert!(refusal.contains(why), "{edit:?}: {refusal}");
    assert_eq!(*plan, before);
}

/// The box is 3600 long, its side 0 to 300 mm over the baseline.
#[test]
fn a_slip_is_refused_with_its_reason() {
    let plan = plan();
    let day = Some("2031-05-30");
    refused(&plan, &add(day, waterline(3700.0, 100.0, 80.0)), "no hull at that station");
    refused(&plan, &add(day, waterline(600.0, 301.0, 80.0)), "0 to 300 mm over the baseline");
    refused(&plan, &add(day, waterline(600.0, -51.0, 80.0)), "0 to 300 mm over the baseline");
    refused(&plan, &add(day, waterline(600.0, 100.0, -1.0)), "outside 0 to 1000 kg");
    refused(&plan, &add(day, waterline(600.0, f64::NAN, 80.0)), "measure the mark again");
    refused(&plan, &add(day, scale(600.0, 1001.0)), "outside 0 to 1000 kg");
    refused(&plan, &add(day, scale(9000.0, 10.0)), "outside -500 to 8000 mm");
    refused(&plan, &add(Some("30 May"), scale(600.0, 10.0)), "write year, month and day");
    let ghost = vec![GearId(99)];
    refused(&plan, &add(day, Taken::Meter { loads: ghost, current: Current::amps(1.0) }), "no gear 99");
    a_meters_slips(plan.clone());
    refused(&plan, &Edit::SwitchReading { index: 0, off: true }, "no reading 1");
    refused(&plan, &Edit::StrikeReading { index: 0 }, "no reading 1");
    let full = (0..200).fold(plan.clone(), |plan, _| apply(&plan, &add(day, scale(600.0, 10.0))).unwrap());
    refused(&full, &add(day, scale(600.0, 10.0)), "at most 200 readings");
    for good in [waterline(600.0, -50.0, 80.0), waterline(3600.0, 300.0, 0.0), scale(-500.0, 0.0)] {
        assert!(apply(&plan, &add(None, good)).is_ok());
    }
}

fn a_meters_slips(mut plan: Plan) {
    let display = add_electric(&mut plan, "display", Kind::Display, load(12.0, 1.0, 2.0));
    let phone = add_electric(&mut plan, "phone", Kind::Phone, load(5.0, 1.0, 2.0));
    let drive = add_electric(&mut plan, "motor", Kind::Motor, motor(&[("3", 20.0)]));
    let meter =
        |loads: &[GearId], amps| add(None, Taken::Meter { loads: loads.to_vec(), current: Current::amps(amps) });
    refused(&plan, &meter(&[display], -0.1), "0 to 100 A");
    refused(&plan, &meter(&[display], 100.1), "0 to 100 A");
    refused(&plan, &meter(&[display], f64::NAN), "0 to 100 A");
    refused(&plan, &meter(&[], 1.0), "which loads were on");
    refused(&plan, &meter(&[drive], 1.0), "motor is no load");
    refused(&plan, &meter(&[display, display], 1.0), "display is named twice");
    refused(&plan, &meter(&[display, phone], 1.0), "phone wants another voltage");
    for good in [meter(&[display], 0.0), meter(&[phone], 100.0)] {
        assert!(apply(&plan, &good).is_ok(), "{good:?}");
    }
}

#[test]
fn a_reading_is_switched_and_struck_and_nothing_else_changes() {
    let start = plan();
    let mut session = Session::new(start.clone(), Measure::default());
    let said: Vec<String> = [
        add(Some("2031-05-30"), waterline(600.0, 100.0, 96.0)),
        add(None, scale(3000.0, 17.5)),
        Edit::SwitchReading { index: 0, off: true },
        Edit::SwitchReading { index: 0, off: false },
        Edit::StrikeReading { index: 0 },
    ]
    .into_iter()
    .map(|edit| session.edit(edit).unwrap())
    .collect();
    assert_eq!(
        said,
        [
            "add waterline 100 mm at 600 mm with 96.0 kg",
            "add scale 17.5 kg at 3000 mm, bare hull",
            "switch off waterline 100 mm at 600 mm with 96.0 kg",
            "use waterline 100 mm at 600 mm with 96.0 kg",
            "strike waterline 100 mm at 600 mm with 96.0 kg",
        ]
    );
    assert_eq!(session.plan().readings.len(), 1);
    refused(session.plan(), &Edit::SwitchReading { index: 0, off: false }, "used already");
    while session.undo().is_some() {}
    assert_eq!(*session.plan(), start);
}

/// What the journal holds is read back as the same edits.
#[test]
fn the_journal_carries_readings() {
    let rigged = Taken::Scale { x: Length::inches(20.0), mass: Mass::pounds(40.0), of: Weighed::Rigged, planned: None };
    for edit in [
        add(Some("2031-05-30"), waterline(600.0, 100.0, 96.0)),
        add(None, rigged),
        Edit::SwitchReading { index: 3, off: true },
        Edit::StrikeReading { index: 2 },
    ] {
        let record = Record::Edit(Box::new(edit));
        assert_eq!(ron::from_str::<Record>(&ron::to_string(&record).unwrap()).unwrap(), record);
        assert_eq!(serde_json::from_str::<Record>(&serde_json::to_string(&record).unwrap()).unwrap(), record);
    }
}

/// A plan written before scales said what was weighed is read as before.
#[test]
fn an_older_scale_is_of_the_bare_hull() {
    let old = "(taken:Scale(x:Mm(600),mass:Kg(17.5)))";
    let read: Reading = ron::from_str(old).unwrap();
    assert_eq!(read, Reading { date: None, taken: scale(600.0, 17.5), off: false });
    assert_eq!(ron::to_string(&read).unwrap(), old);
}
