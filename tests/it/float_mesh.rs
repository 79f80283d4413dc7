//! Floating bodies against general libraries: `float_mesh/generate.py` cuts meshes with trimesh and balances
//! them with scipy; its output is kept beside it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::catalogue::{hulls, new_plan};
use gunnel::geometry::{Body, Form, Point, Section};
use gunnel::study::float::{Load, equilibrium, righting_arm};
use serde::Deserialize;

/// What the libraries found.
#[derive(Deserialize)]
pub struct Expected {
    pub bodies: Vec<Meshed>,
}

#[derive(Deserialize)]
pub struct Meshed {
    pub name: String,
    pub volume_mm3: f64,
    pub sections: Vec<Section>,
    pub cases: Vec<Loaded>,
}

#[derive(Deserialize)]
pub struct Loaded {
    pub mass_kg: f64,
    pub centre_mm: [f64; 3],
    pub rest: Found,
    pub held: Vec<Found>,
}

#[derive(Deserialize)]
pub struct Found {
    pub heel_deg: f64,
    pub trim_deg: f64,
    pub draft_aft_mm: f64,
    pub draft_fore_mm: f64,
    pub buoyancy_mm: [f64; 3],
    pub gz_mm: f64,
}

pub fn expected() -> Expected {
    serde_json::from_str(include_str!("float_mesh/expected.json")).unwrap()
}

impl Meshed {
    fn form(&self) -> Form {
        Form { sections: self.sections.clone() }
    }
}

impl Loaded {
    fn load(&self) -> Load {
        let [x, y, z] = self.centre_mm;
        Load { mass_kg: self.mass_kg, centre: Point::new(x, y, z), water_kg_per_m3: 1000.0 }
    }
}

pub const MILLIMETRES: f64 = 0.1;
pub const DEGREES: f64 = 0.01;

fn check(what: &str, found: f64, meshed: f64, tolerance: f64) {
    assert!((found - meshed).abs() <= tolerance, "{what}: {found} is not {meshed} within {tolerance}");
}

#[test]
fn bodies_rest_where_the_libraries_say() {
    for meshed in expected().bodies {
        let body = Body::of(&meshed.form()).unwrap();
        check(&meshed.name, body.volume() / meshed.volume_mm3, 1.0, 1.0e-9);
        for case in &meshed.cases {
            let what = format!("{} with {} kg at {:?}", meshed.name, case.mass_kg, case.centre_mm);
            let rest = equilibrium(&body, &case.load()).unwrap();
            check(&format!("{what}, heel"), rest.heel_deg, case.rest.heel_deg, DEGREES);
            check(&format!("{what}, trim"), rest.trim_deg, case.rest.trim_deg, DEGREES);
            check(&format!("{what}, aft"), rest.draft_aft_mm, case.rest.draft_aft_mm, MILLIMETRES);
            check(&format!("{what}, fore"), rest.draft_fore_mm, case.rest.draft_fore_mm, MILLIMETRES);
            let [x, y, z] = case.rest.buoyancy_mm;
            check(&format!("{what}, buoyancy x"), rest.buoyancy.x, x, MILLIMETRES);
            check(&format!("{what}, buoyancy y"), rest.buoyancy.y, y, MILLIMETRES);
            check(&format!("{what}, buoyancy z"), rest.buoyancy.z, z, MILLIMETRES);
        }
    }
}

#[test]
fn bodies_held_at_a_heel_right_themselves_as_the_libraries_say() {
    for meshed in expected().bodies {
        let body = Body::of(&meshed.form()).unwrap();
        for case in &meshed.cases {
            for held in &case.held {
                let what = format!("{} with {} kg heeled {}", meshed.name, case.mass_kg, held.heel_deg);
                let arm = righting_arm(&body, &case.load(), held.heel_deg).unwrap();
                check(&format!("{what}, lever"), arm.gz_mm, held.gz_mm, MILLIMETRES);
                check(&format!("{what}, trim"), arm.trim_deg, held.trim_deg, DEGREES);
                let (aft, fore) = body.ends();
                check(&format!("{what}, aft"), arm.plane.draft(aft), held.draft_aft_mm, MILLIMETRES);
                check(&format!("{what}, fore"), arm.plane.draft(fore), held.draft_fore_mm, MILLIMETRES);
            }
        }
    }
}

/// The libraries' figures are for the hulls as shipped; generate them anew when a hull changes.
#[test]
fn the_shipped_hulls_are_those_that_were_meshed() {
    let meshed = expected().bodies;
    for class in hulls() {
        let key = class.key().to_string();
        let body = meshed.iter().find(|body| body.name == key).unwrap();
        assert_eq!(*new_plan(&key).unwrap().hull.form, body.form(), "{key}");
    }
}
