//! Whole pieces made from their papers alone, and papers damaged by lot: the workshop
//! must notice.

use rodwright::joinery::WorkedJob;
use rodwright::script::Request;
use rodwright::{Choices, examine, set_out};
use serde_json::Value;

use super::papers::{BUYING, CUTTING, LAYOUTS, ORDER, Papers, SETTINGS};
use super::{askew, bench, order, rough, saw, schema, trim};
use crate::library::made;
use crate::support::lot::Lot;
use crate::support::scripts::{request, scripts_in};

/// Everything wrong in making a job from its papers.
fn wrong((papers, worked, pieces): &Set) -> Vec<String> {
    let (sawn, mut faults) = saw::sawn(papers);
    faults.extend(rough::faults(papers, &sawn));
    faults.extend(trim::faults(papers));
    faults.extend(schema::faults(papers));
    faults.extend(bench::faults(papers, worked).1);
    faults.extend(askew::faults(papers, worked).1);
    faults.extend(order::faults(papers, worked, pieces));
    faults
}

/// The papers of a job, its model, and the names of its pieces.
type Set = (Papers, WorkedJob, Vec<String>);

/// The papers of a script and its model.
fn set(path: &std::path::Path) -> Set {
    let name = path.file_stem().unwrap().to_string_lossy().into_owned();
    papers(&request(&name, std::fs::read_to_string(path).unwrap())).unwrap()
}

/// The papers of a job and its model; nothing where its sizes are refused.
fn papers(request: &Request) -> Option<Set> {
    let (job, worked) = examine(request).worked?;
    let pieces = job.pieces.into_iter().map(|piece| piece.name).collect();
    Some((Papers::of(&set_out(request, &Choices::default()).files), worked, pieces))
}

/// One small piece in the quick tier: every list is read and every cut held against the
/// model.
#[test]
fn the_card_box_is_made_from_its_papers() {
    let path = scripts_in("scripts").into_iter().find(|path| path.ends_with("card_box.rhai")).unwrap();
    assert_eq!(wrong(&set(&path)), Vec::<String>::new());
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    /// Every piece of the scripts and of the families.
    #[test]
    fn every_piece_is_made_from_its_papers() {
        let mut found = Vec::new();
        let mut judged = 0;
        for path in scripts_in("scripts").iter().chain(&scripts_in("tests/drawing/families")) {
            let set = set(path);
            judged += bench::faults(&set.0, &set.1).0 + askew::faults(&set.0, &set.1).0;
            let name = path.file_stem().unwrap().to_string_lossy();
            found.extend(wrong(&set).into_iter().map(|fault| format!("{name}: {fault}")));
        }
        println!("{judged} cuts were held against the model");
        assert!(judged > 200, "{judged}");
        assert_eq!(found, Vec::<String>::new());
    }

    /// Types of the library, in both units, as they come and at sizes by lot.
    #[test]
    fn types_by_lot_are_made_from_their_papers() {
        let (mut found, mut judged) = (Vec::new(), 0);
        for name in made::types() {
            for (unit, seed) in [("mm", 0), ("in", 0), ("mm", 1), ("in", 2)] {
                let text = made::started(name, unit);
                let settings = made::sizes(name, &text, seed);
                let Some(set) = papers(&made::request(name, &text, settings)) else { continue };
                judged += bench::faults(&set.0, &set.1).0 + askew::faults(&set.0, &set.1).0;
                let wrong = wrong(&set).into_iter();
                found.extend(wrong.map(|fault| format!("{name} in {unit}, {seed}: {fault}")));
            }
        }
        println!("{judged} cuts were held against the model");
        assert!(judged > 200, "{judged}");
        assert_eq!(found, Vec::<String>::new());
    }

    /// Kinds of damage.
    const DAMAGES: [&str; 15] = [
        "a fence of a layout off by 2 mm",
        "two cuts that follow one another swapped",
        "a part left out of a layout",
        "a sheet or board fewer",
        "a rough size off by 2 mm",
        "a part more on the list",
        "a fence of a setting off by 2 mm",
        "a depth or width of a setting off by 2 mm",
        "the face at the fence the other one",
        "a step before the one it needs",
        "a part left out of a step",
        "a part that comes the other way",
        "a fitting fewer in a step",
        "a part that comes in twice",
        "an angle off by 2 degrees, or a width of a dovetail or finger by 2 mm",
    ];

    /// Two hundred damages by lot to the written files, of which at least 95 in a hundred
    /// are noticed.
    #[test]
    fn damages_by_lot_are_noticed() {
        let sets: Vec<Set> = scripts_in("scripts").iter().map(|path| set(path)).collect();
        let lot = &mut Lot(2_026);
        let (mut tried, mut noticed, mut missed) = (0, 0, Vec::new());
        while tried < 200 {
            let (papers, worked, pieces) = &sets[lot.of(sets.len())];
            let kind = lot.of(DAMAGES.len());
            let mut damaged = papers.clone();
            let some = if kind < OF_ORDER {
                damage(&mut damaged, kind, lot)
            } else {
                disorder(&mut damaged, kind, lot)
            };
            let Some(what) = some else { continue };
            tried += 1;
            if wrong(&(damaged, worked.clone(), pieces.clone())).is_empty() {
                missed.push(format!("{}: {what}", DAMAGES[kind]));
            } else {
                noticed += 1;
            }
        }
        println!("{noticed} of {tried} damages noticed; missed: {missed:#?}");
        assert!(100 * noticed >= 95 * tried, "{missed:#?}");
    }

    /// The one of a list drawn by lot.
    fn drawn<'v>(list: &'v mut Value, lot: &mut Lot) -> Option<&'v mut Value> {
        let all = list.as_array_mut().filter(|all| !all.is_empty())?;
        let at = lot.of(all.len());
        all.get_mut(at)
    }

    /// A figure moved by 2 mm, up or down.
    fn moved(value: &mut Value, lot: &mut Lot) -> Option<String> {
        let old = value.as_f64()?;
        let new = if lot.of(2) == 0 || old <= 2.5 { old + 2.0 } else { old - 2.0 };
        *value = Value::from(new);
        Some(format!("{old} to {new}"))
    }

    /// Damages papers in one way; `None` where there is nothing to damage so.
    fn damage(papers: &mut Papers, kind: usize, lot: &mut Lot) -> Option<String> {
        let file = [LAYOUTS, LAYOUTS, LAYOUTS, BUYING, CUTTING, CUTTING, SETTINGS, SETTINGS, SETTINGS][kind];
        let paper = papers.0.get_mut(file)?;
        match kind {
            0 => moved(&mut drawn(&mut drawn(&mut paper["layouts"], lot)?["cuts"], lot)?["fence"], lot),
            1 => {
                let cuts = drawn(&mut paper["layouts"], lot)?["cuts"]
                    .as_array_mut()
                    .filter(|cuts| cuts.len() > 1)?;
                // The second takes up what the first gives.
                cuts.swap(0, 1);
                Some("the first two".to_owned())
            }
            2 => {
                let pieces = drawn(&mut paper["layouts"], lot)?["pieces"].as_array_mut()?;
                let parts: Vec<usize> =
                    (0..pieces.len()).filter(|at| pieces[*at]["what"] == "part").collect();
                let at = *parts.get(lot.of(parts.len().max(1)))?;
                Some(pieces.remove(at)["name"].to_string())
            }
            3 => {
                let line = drawn(&mut paper["lines"], lot)?;
                let group = line["group"].as_str()?.to_owned();
                let count = match group.as_str() {
                    "sheets" => &mut line["quantity"],
                    "boards" => &mut drawn(&mut line["boards"], lot)?["count"],
                    _ => return None,
                };
                let old = count.as_f64()?;
                *count = Value::from(old - 1.0);
                Some(format!("{group}: {old} to {}", old - 1.0))
            }
            4 => {
                let row = drawn(&mut paper["parts"], lot)?;
                let name = row["name"].to_string();
                let axis = lot.of(2);
                moved(row["rough"].get_mut(axis)?, lot).map(|how| format!("{name}: {how}"))
            }
            5 => {
                let row = drawn(&mut paper["parts"], lot)?;
                row["rough"].as_array()?;
                let more = row["quantity"].as_u64()? + 1;
                row["quantity"] = Value::from(more);
                Some(row["name"].to_string())
            }
            6 => {
                let set_up = drawn(&mut paper["set_ups"], lot).filter(|one| judged(one))?;
                let fence = &mut set_up["fence"];
                if fence["each"].is_array() {
                    moved(drawn(&mut fence["each"], lot)?, lot)
                } else {
                    moved(fence.get_mut("row")?.get_mut("first")?, lot)
                }
            }
            7 => {
                let set_up = drawn(&mut paper["set_ups"], lot).filter(|one| judged(one))?;
                let key = ["width", "diameter", "length"][lot.of(3)];
                if lot.of(2) == 0 && set_up["setting"]["depth"]["to"].is_number() {
                    moved(&mut set_up["setting"]["depth"]["to"], lot)
                } else {
                    moved(set_up["setting"].get_mut(key)?, lot)
                }
            }
            _ => {
                let set_up = drawn(&mut paper["set_ups"], lot).filter(|one| judged(one))?;
                let turn = drawn(&mut set_up["turns"], lot)?;
                let name = drawn(&mut turn["against"]["faces"], lot)?;
                let other = match name.as_str()? {
                    "near-end" => "far-end",
                    "far-end" => "near-end",
                    "edge" => "far-edge",
                    "far-edge" => "edge",
                    "marked" => "back",
                    _ => "marked",
                };
                let was = std::mem::replace(name, Value::from(other));
                Some(format!("{was} to {other}"))
            }
        }
    }

    /// The first kind of damage that is done to the order of assembly.
    const OF_ORDER: usize = 9;

    /// Damages the order of assembly in one way; `None` where there is nothing to damage so.
    fn disorder(papers: &mut Papers, kind: usize, lot: &mut Lot) -> Option<String> {
        if kind == OF_ORDER + 5 {
            let set_up = drawn(&mut papers.0.get_mut(SETTINGS)?["set_ups"], lot)?;
            let what = set_up["setting"]["what"].as_str()?.to_owned();
            let key = ["angle", "gauge", "lean", "narrow", "width"][lot.of(5)];
            // A finger or dovetail is known by its width, a saw by its angle; the parts must
            // be ones that lie as the model has them.
            if !askew::KINDS.contains(&what.as_str()) || (key == "width" && what != "finger") {
                return None;
            }
            return moved(set_up["setting"].get_mut(key)?, lot).map(|how| format!("{what} {key} {how}"));
        }
        let steps = &mut papers.0.get_mut(ORDER)?["steps"];
        if kind == OF_ORDER {
            let steps = steps.as_array_mut()?;
            let needs = |step: &Value, name: &str| {
                let moves = step["moves"].as_array().map(Vec::as_slice).unwrap_or_default();
                moves.iter().any(|one| {
                    ["onto", "together"].iter().any(|key| {
                        one[*key].as_array().is_some_and(|names| names.iter().any(|known| known == name))
                    })
                })
            };
            let follow = |at: &usize| {
                let (a, b) = (&steps[*at], &steps[at + 1]);
                let adds = a["parts"].as_array().map(Vec::as_slice).unwrap_or_default();
                let joins = |step: &Value| step["kind"] == "join";
                let needed = |part: &Value| part["name"].as_str().is_some_and(|name| needs(b, name));
                a["piece"] == b["piece"] && joins(a) && joins(b) && adds.iter().any(needed)
            };
            let pairs: Vec<usize> = (0..steps.len().saturating_sub(1)).filter(follow).collect();
            let at = *pairs.get(lot.of(pairs.len().max(1)))?;
            steps.swap(at, at + 1);
            // Numbered anew, so that only what comes to what can tell.
            let number = steps[at + 1]["step"].clone();
            steps[at + 1]["step"] = std::mem::replace(&mut steps[at]["step"], number);
            return Some(format!("steps {at} and {}", at + 1));
        }
        let step = drawn(steps, lot)?;
        if kind == OF_ORDER + 3 {
            let fitting = drawn(&mut step["fittings"], lot)?;
            let (many, what) = fitting.as_str()?.split_once(" × ")?;
            let fewer = many.parse::<u32>().ok()? - 1;
            let damaged = format!("{fewer} × {what}");
            *fitting = Value::from(damaged.clone());
            return Some(damaged);
        }
        let joins = step["kind"] == "join";
        let one = drawn(&mut step["moves"], lot).filter(|_| joins)?;
        let at = lot.of(one["adds"].as_array().filter(|adds| !adds.is_empty())?.len());
        let name = one["adds"][at].as_str()?.to_owned();
        match kind - OF_ORDER {
            1 => {
                one["adds"].as_array_mut()?.remove(at);
                one["ways"].as_array_mut()?.remove(at);
                let parts = step["parts"].as_array_mut()?;
                let place = parts.iter().position(|part| part["name"] == name.as_str())?;
                parts.remove(place);
            }
            2 => {
                for number in one["ways"][at].as_array_mut()? {
                    *number = Value::from(-number.as_f64()?);
                }
            }
            _ => {
                let (add, way) = (one["adds"][at].clone(), one["ways"][at].clone());
                one["adds"].as_array_mut()?.push(add);
                one["ways"].as_array_mut()?.push(way);
                let parts = step["parts"].as_array_mut()?;
                let place = parts.iter().position(|part| part["name"] == name.as_str())?;
                parts.push(parts[place].clone());
            }
        }
        Some(name)
    }

    /// Whether a set-up is of the kinds that the workshop judges.
    fn judged(set_up: &Value) -> bool {
        let what = set_up["setting"]["what"].as_str().unwrap_or_default();
        let of_fence = |turn: &Value| turn["against"]["what"] == "fence";
        let trimmed = |turn: &Value| {
            turn["uses"].as_array().is_some_and(|uses| uses.iter().all(|one| one["state"] == "trimmed"))
        };
        let turns = set_up["turns"].as_array().map(Vec::as_slice).unwrap_or_default();
        ["channel", "mortise", "bore"].contains(&what)
            && !set_up["fence"].is_null()
            && set_up["later"] == false
            && turns.iter().all(|turn| of_fence(turn) && trimmed(turn))
    }
}
