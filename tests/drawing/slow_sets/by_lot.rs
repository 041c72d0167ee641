//! Every script at sizes drawn by lot, on every paper, in both units and both
//! practices, judged by the drawing lint.

use rayon::prelude::*;
use rodwright::draw;
use rodwright::drawing::Look;
use rodwright::model::SizeKind;
use rodwright::paper::lint::judge_set;
use rodwright::problem::Severity;
use rodwright::script::declared;

use crate::support::lot::Lot;
use crate::support::sets::{describe, looks, request, scripts};

/// Sets of sizes tried of each script.
const TRIES: u64 = 50;

/// A value in the range of a declared size, as the command line takes it.
fn drawn(kind: &SizeKind, lot: &mut Lot) -> String {
    match kind {
        SizeKind::Length { default, from, to } => {
            let (a, b) = (from.unwrap_or(0.5 * default), to.unwrap_or(1.5 * default));
            // Whole millimetres, halves and sixteenths of an inch all occur.
            let at = lot.between(a, b);
            let at = if lot.of(4) == 0 { ((at / 25.4 * 16.0).round() / 16.0 * 25.4).clamp(a, b) } else { at };
            format!("{at}mm")
        }
        SizeKind::Count { default, from, to } => {
            let (a, b) = (from.unwrap_or(1), to.unwrap_or(2 * default));
            (a..=b).nth(lot.of((b - a + 1) as usize)).unwrap().to_string()
        }
        SizeKind::Choice { among, .. } => among[lot.of(among.len())].clone(),
        SizeKind::YesNo { .. } => ["yes", "no"][lot.of(2)].into(),
    }
}

/// One set of sizes of a script.
fn sizes(script: &str, seed: u64) -> Vec<(String, String)> {
    let mut lot = Lot(seed);
    let declared = declared(&request(script, &[])).sizes;
    declared.iter().map(|size| (size.name.clone(), drawn(&size.kind, &mut lot))).collect()
}

/// What the lint finds of a script at one set of sizes; `None` where the script
/// or a joint refuses them, which must be said as a problem.
fn findings(script: &str, sizes: &[(String, String)], looks: &[Look]) -> Option<Vec<String>> {
    let settings: Vec<(&str, &str)> = sizes.iter().map(|(n, v)| (n.as_str(), v.as_str())).collect();
    let done = rodwright::examine(&request(script, &settings));
    let Some((job, worked)) = done.worked else {
        assert!(done.problems.iter().any(|p| p.severity == Severity::Error), "{script} {settings:?}");
        return None;
    };
    let mut wrong = Vec::new();
    for look in looks {
        let drawn = draw(&job, &worked, look);
        let at = (look.paper, look.unit, look.profile);
        // A run of grain may be longer than any sheet: the maker is told so.
        let unexpected: Vec<_> = drawn.problems.iter().filter(|p| p.code != "no-place").collect();
        if !unexpected.is_empty() {
            wrong.push(format!("{script} {settings:?} {at:?}: {unexpected:?}"));
        }
        let found = judge_set(&drawn.sheets);
        if !found.is_empty() {
            wrong.push(format!("{script} {settings:?} {at:?}: {}", describe(&found)));
        }
    }
    Some(wrong)
}

/// Each set of sizes in one look, the looks in turn; `LOOKS=all` tries all of
/// them with each, `ONLY=window_wall` one script.
#[test]
fn sheets_at_sizes_drawn_by_lot_are_clean() {
    let all = looks();
    let whole = std::env::var("LOOKS").is_ok_and(|v| v == "all");
    let only = std::env::var("ONLY").ok();
    let mut wrong = Vec::new();
    for (i, script) in scripts().iter().enumerate().filter(|(_, s)| only.as_ref().is_none_or(|o| o == *s)) {
        let tried = |seed: u64| {
            let turn = (seed as usize + 5 * i) % all.len();
            let looks = if whole { &all[..] } else { &all[turn..=turn] };
            findings(script, &sizes(script, 1 + seed), looks)
        };
        let made: Vec<Vec<String>> = (0..TRIES).into_par_iter().filter_map(tried).collect();
        assert!(
            made.len() * 2 > TRIES as usize,
            "{script}: only {} of {TRIES} sets of sizes in range can be made",
            made.len()
        );
        wrong.extend(made.into_iter().flatten());
    }
    assert!(wrong.is_empty(), "{} sets with findings\n{}", wrong.len(), wrong.join("\n"));
}

/// What the lots found once in all looks: a mean pitch that rounded another way
/// than the first, a figure beside a narrow view that ran over the frame.
#[test]
fn sizes_that_were_unclean_once_are_clean() {
    let cases: [(&str, &[(&str, &str)]); 3] = [
        (
            "atlas_bookcase",
            &[
                ("width", "698.5mm"),
                ("height", "989.0124999999999mm"),
                ("depth", "320.5mm"),
                ("shelves", "3"),
                ("back", "rebate"),
            ],
        ),
        (
            "notice_frame",
            &[
                ("sheet_width", "857.25mm"),
                ("sheet_height", "503.23749999999995mm"),
                ("face", "57mm"),
                ("thickness", "20.5mm"),
                ("clearance", "1.5875mm"),
                ("glass", "no"),
            ],
        ),
        (
            "notice_frame",
            &[
                ("sheet_width", "808.5mm"),
                ("sheet_height", "493mm"),
                ("face", "82.55mm"),
                ("thickness", "19mm"),
                ("clearance", "2.5mm"),
                ("glass", "yes"),
            ],
        ),
    ];
    for (script, sizes) in cases {
        let sizes: Vec<(String, String)> = sizes.iter().map(|(n, v)| ((*n).into(), (*v).into())).collect();
        let found = findings(script, &sizes, &looks()).expect("sizes in range");
        assert!(found.is_empty(), "{}", found.join("\n"));
    }
}
