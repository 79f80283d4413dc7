//! Plans to play with: a bare boat, a rigged one with something of everything, one with names of every script.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::path::Path;
use std::sync::LazyLock;

use gunnel::catalogue::{Catalogue, new_plan};
use gunnel::edit::{Edit, apply};
use gunnel::plan::{
    Circuit, CircuitId, Fate, GearId, HoleId, Level, Mount, Name, Penetration, Placement, Plan, Purpose, Seal,
};
use gunnel::scenarios::SCENARIOS;
use gunnel::storage::load::{self, Format};
use gunnel::units::{Current, Length};

/// A boat with nothing aboard.
pub fn bare() -> Plan {
    with(new_plan("standup-12").unwrap(), &[Edit::RenamePlan { name: name("quiet water") }])
}

/// A boat with gear in every place, some of it badly placed, one piece ashore, wired, with holes of its own.
pub fn rich() -> Plan {
    static RICH: LazyLock<Plan> = LazyLock::new(rigged);
    RICH.clone()
}

fn rigged() -> Plan {
    let at = Placement::at;
    let inside = |x, y| Placement { level: Level::Inside, ..at(x, y) };
    let under = |x, y| Placement { level: Level::Under, ..at(x, y) };
    with(
        bare(),
        &[
            aboard("battery-lfp-50", None, inside(2310.0, 0.0)),
            aboard("display-9", Some(Mount::Track), at(2000.0, 385.0)),
            aboard("display-12", Some(Mount::Bolts), at(2900.0, 150.0)),
            aboard("crate", None, at(650.0, 0.0)),
            aboard("light-pole-allround", None, at(350.0, 240.0)),
            aboard("port-usb-dual", None, at(1400.0, 400.0)),
            aboard("port-power-sealed", None, at(1210.0, 90.0)),
            aboard("transducer-puck", None, under(940.0, -145.0)),
            aboard("fuse-block-6", None, inside(1210.0, -60.0)),
            aboard("rod-holder-flush", None, at(1300.0, -395.0)),
            aboard("cooler-20", None, at(2300.0, 0.0)),
            Edit::Add { spec: spec("net"), mount: None, place: None },
            hole("cable entry", 1380.0, 300.0, 22.0, Fate::New),
            hole("old rod holder screw", 1297.0, -350.0, 6.0, Fate::Open),
            hole("old fitting", 2620.0, -320.0, 25.0, Fate::Open),
            Edit::SetCircuit {
                circuit: Circuit {
                    fuse: Some(Current::amps(5.0)),
                    gauge_awg: Some(16),
                    ..Circuit::new(CircuitId(1), name("screens"), GearId(1), vec![GearId(2)])
                },
            },
        ],
    )
}

/// The rigged boat with names that are sound and hard to draw: wide, joined, accented, long, of no width.
pub fn many_scripts() -> Plan {
    let names = [
        "表示器 九インチ 左舷トラック",
        "e\u{301}cran 9 po\u{300}uces",
        "👩\u{1f3fd}🎣🛶",
        "ｈａｌｆ ｶﾀｶﾅ",
        "한국어 이름",
        "a\u{300}\u{301}\u{302}\u{303}\u{304}\u{305}\u{306}\u{307} tower",
        "عربي",
        "🇫🇮🇳🇴 flags",
        "x",
        "e\u{301}e\u{301}e\u{301}e\u{301}e\u{301}e\u{301}e\u{301}e\u{301}e\u{301}e\u{301}e\u{301}e\u{301}e\u{301}e\u{301}e\u{301}",
        "一二三四五六七八九十一二三四五六七八九十一二三四五六七八九十一二三四五六七八九十一二三四五六七八九十一二三四五六七八九十一二三四五六七八九十一二三四五六七八九十",
        "क्षत्रिय नाव",
    ];
    let renames = names.iter().zip(1..).map(|(text, id)| Edit::Rename { gear: GearId(id), label: name(text) });
    let mut edits: Vec<Edit> = renames.collect();
    edits.push(Edit::RenamePlan { name: name("静かな水 🛶 e\u{301}te\u{301}") });
    with(rich(), &edits)
}

/// A plan that comes with the program, by its file.
pub fn demo(file: &str) -> Plan {
    let demo = SCENARIOS.iter().find(|demo| demo.file == file).unwrap_or_else(|| panic!("no demo {file}"));
    load::plan(demo.text, Path::new(file), Format::Ron).unwrap()
}

pub fn name(text: &str) -> Name {
    Name::new(text).unwrap()
}

pub fn with(mut plan: Plan, edits: &[Edit]) -> Plan {
    for edit in edits {
        plan = apply(&plan, edit).unwrap_or_else(|why| panic!("{edit:?}: {why}"));
    }
    plan.validate().unwrap();
    plan
}

fn aboard(key: &str, mount: Option<Mount>, at: Placement) -> Edit {
    Edit::Add { spec: spec(key), mount, place: Some(at) }
}

fn spec(key: &str) -> Box<gunnel::plan::Spec> {
    Box::new(Catalogue::shipped().get(key).unwrap_or_else(|| panic!("no {key} in the catalogue")).clone())
}

fn hole(title: &str, x: f64, y: f64, bore: f64, fate: Fate) -> Edit {
    let hole = Penetration {
        id: HoleId(0),
        name: name(title),
        x: Length::mm(x),
        y: Length::mm(y),
        bore: Length::mm(bore),
        purpose: Purpose::Cable,
        fate,
        seal: Seal::default(),
        left: None,
    };
    Edit::AddHole { hole }
}
