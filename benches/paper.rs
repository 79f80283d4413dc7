//! All that goes on paper of a boat with sixty pieces of gear: five sheets as text, four drawings as documents.

use std::hint::black_box;

use divan::Bencher;
use gunnel::sheets::{
    DrawingForm, Paper, SheetForm, checklist_sheet, drill_sheet, parts_sheet, plan_view, profile_view, section_view,
    templates, wiring_sheet, work_sheet,
};
use gunnel::study::Study;
use gunnel::study::section::places;
use gunnel::units::Measure;

#[divan::bench(args = ["sheets", "drawings", "all"])]
fn paper(bencher: Bencher, which: &str) {
    let plan = super::rigged(60, 80);
    let study = Study::of(&plan);
    let (paper, tape) = (Paper::A4, Measure::default());
    let sheets = || {
        [
            drill_sheet(&plan, &study, tape),
            wiring_sheet(&plan, &study, tape),
            parts_sheet(&plan, &study),
            work_sheet(&plan, &study, None, None),
            checklist_sheet(&plan, &study),
        ]
        .map(|sheet| sheet.written(SheetForm::Text))
    };
    let drawings = || {
        [
            templates(&plan, &study, paper),
            plan_view(&plan, &study, paper, tape),
            profile_view(&plan, &study, paper, tape),
            section_view(&plan, &study, &places(&plan, &study), paper, tape),
        ]
        .map(|drawing| drawing.written(DrawingForm::Pdf))
    };
    bencher.bench_local(|| {
        let sheets = (which != "drawings").then(|| black_box(sheets()));
        let drawings = (which != "sheets").then(|| black_box(drawings()));
        (sheets, drawings)
    });
}
