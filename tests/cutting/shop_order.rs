//! A bench, a case and a coat rail in one job: one order, layouts that show the
//! grain running on round the corners, machine settings and labels; and what
//! lies in the shop is used first.

use rodwright::cutting::{Bought, Group, ShopLists, shop_lists};
use rodwright::drawing::{LabelGrid, Look, Paper, PaperSeries, Profile, labels};
use rodwright::machining::Machined;
use rodwright::machining::setting::{Setting, Task};
use rodwright::measure::Unit;
use rodwright::paper::{Ink, Role, Run, Sheet};
use rodwright::script::Request;
use rodwright::{Choices, draw, examine, set_out};

use crate::support::sets::request;

/// The stock the script buys, and the same with an offcut in the shop.
const BOUGHT: &str = "sheet: [2440, 1220], grain: \"length\", price: 92.0";
const AND_OFFCUT: &str =
    "sheet: [2440, 1220], grain: \"length\", price: 92.0, on_hand: [#{ size: [2100, 700] }]";

/// The script, with an offcut in the shop or without.
fn wall(offcut: bool) -> Request {
    let mut request = request("window_wall", &[]);
    assert!(request.text.contains(BOUGHT), "the script no longer says `{BOUGHT}`");
    if offcut {
        request.text = request.text.replace(BOUGHT, AND_OFFCUT);
    }
    request
}

fn lists(request: &Request) -> ShopLists {
    let (job, worked) = examine(request).worked.unwrap();
    assert_eq!(job.pieces.len(), 3);
    let (lists, problems) = shop_lists(&Machined::new(&job, &worked));
    assert!(problems.is_empty(), "{problems:?}");
    lists
}

/// The texts of a sheet.
fn words(sheet: &Sheet) -> Vec<String> {
    let text = |ink: &Ink| match ink {
        Ink::Text(text) => {
            let plain = text.runs.iter().filter_map(|run| match run {
                Run::Plain(plain) => Some(plain.as_str()),
                Run::Fraction { .. } => None,
            });
            Some(plain.collect::<String>())
        }
        _ => None,
    };
    sheet.marks.iter().filter_map(|mark| text(&mark.ink)).collect()
}

/// The run, 381 + 1202 + 381 and two saw cuts by 286, stands on an offcut of
/// 2100 by 700 above the bottom and both dividers, 1164 + 344 + 344 and two saw
/// cuts by 286, and the hanging rail, 1164 by 100: no sheet of that plywood is
/// bought, and all else stays.
#[test]
fn an_offcut_in_the_shop_does_for_the_case() {
    let (without, with) = (lists(&wall(false)), lists(&wall(true)));
    let of = |lists: &ShopLists, group: Group| -> Vec<(Bought, Vec<f64>, f64)> {
        let lines = lists.buying.lines.iter().filter(|line| line.group == group);
        lines.map(|line| (line.what.clone(), line.size.clone(), line.quantity)).collect()
    };
    let stock = Bought::Stock("Oak plywood".into());
    let oak = |lines: &[(Bought, Vec<f64>, f64)]| lines.iter().filter(|line| line.0 == stock).count();
    assert_eq!(oak(&of(&without, Group::Sheets)), 1);
    assert!(of(&without, Group::FromTheShop).is_empty());
    assert_eq!(oak(&of(&with, Group::Sheets)), 0);
    let shop = of(&with, Group::FromTheShop);
    assert_eq!(shop, [(stock, vec![2100.0, 700.0, 18.0], 1.0)]);
    for group in Group::ALL.into_iter().filter(|g| !matches!(g, Group::Sheets | Group::FromTheShop)) {
        assert_eq!(of(&without, group), of(&with, group), "{group:?}");
    }
    assert!((without.buying.total().0 - with.buying.total().0 - 92.0).abs() < 1e-9);
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    /// One of each sheet of plywood is one line, though two pieces use it; the
    /// layout has an arrow over each of the two corners of the case; a setting that
    /// two pieces need stands once; every part has its label.
    #[test]
    fn three_pieces_are_one_order() {
        let request = wall(false);
        let (job, worked) = examine(&request).worked.unwrap();
        let lists = lists(&request);
        for group in Group::ALL {
            let mut names: Vec<(&Bought, &[f64])> = Vec::new();
            for line in lists.buying.lines.iter().filter(|line| line.group == group) {
                let name = (&line.what, line.size.as_slice());
                assert!(!names.contains(&name), "{name:?} is bought twice");
                names.push(name);
            }
        }
        let look = Look::new(Paper::A3, Unit::Mm, Profile::Iso);
        let drawn = draw(&job, &worked, &look);
        let titled = |title: &str| -> Vec<&Sheet> {
            drawn.sheets.iter().filter(|sheet| sheet.title.contains(title)).collect()
        };
        let oak = titled("Oak plywood 18: sheet layout");
        assert_eq!(oak.len(), 1);
        let said = words(oak[0]);
        assert!(
            said.iter().any(|text| text.starts_with("The grain runs on through Left side, Top, Right side"))
        );
        let heads = oak[0].marks.iter().filter(|mark| {
            mark.role == Role::Symbol && matches!(&mark.ink, Ink::Fill { grey, .. } if *grey == 0.0)
        });
        assert_eq!(heads.count(), 2, "an arrow over each corner");
        assert_eq!((titled("Buying list").len(), titled("Machine settings").len()), (1, 2));
        // Stretcher of the bench and rails of the coat rail have one width.
        let rips = drawn.lists.settings.set_ups.iter().filter(|setup| setup.task == Task::Rip);
        assert_eq!(rips.filter(|setup| setup.setting == Setting::Size { size: 70.0 }).count(), 1);
        let sheets = labels(&job, &worked, &lists.list, &look, &LabelGrid::usual(PaperSeries::Iso));
        let names: Vec<String> = sheets.iter().flat_map(words).collect();
        for row in &lists.list.parts {
            let once =
                names.iter().filter(|text| row.name.split(", ").any(|name| name == text.as_str())).count();
            assert!(once >= row.quantity, "{}: {once} labels", row.name);
        }
        let files = set_out(&request, &Choices::default()).files;
        for name in ["-layouts.csv", "-layouts.json", "-buying-list.csv", "-labels.pdf"] {
            assert!(files.iter().any(|file| file.name == name), "no {name}");
        }
    }
}
