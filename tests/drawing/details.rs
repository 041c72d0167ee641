//! Joint details against the joints of the job and against the ink.

use std::collections::BTreeMap;

use rodwright::draw;
use rodwright::drawing::{Look, Paper, Profile, joint_details};
use rodwright::measure::Unit;
use rodwright::paper::{Ink, Mark, Role, Sheet};

use crate::support::sets::{scripts, worked};

fn looks() -> [Look; 3] {
    [
        Look::new(Paper::A3, Unit::Mm, Profile::Iso),
        Look::new(Paper::A4, Unit::Mm, Profile::Iso),
        Look::new(Paper::Tabloid, Unit::Inch, Profile::Asme),
    ]
}

/// The detail sheets of a set.
fn detail_sheets(sheets: &[Sheet]) -> impl Iterator<Item = &Sheet> {
    sheets.iter().filter(|s| s.title.contains("joint details"))
}

/// Texts in some role with the places of their marks.
fn texts(sheet: &Sheet, role: Role) -> Vec<String> {
    let of = |m: &Mark| match &m.ink {
        Ink::Text(text) if m.role == role => Some(text.reading()),
        _ => None,
    };
    sheet.marks.iter().filter_map(of).collect()
}

/// A title such as `B  1:2`: letter and paper mm per model mm.
fn titled(words: &str) -> Option<(String, f64)> {
    let (letter, scale) = words.split_once("  ")?;
    let factor = match scale.trim() {
        "full size" => 1.0,
        // The architect's rule: inches of paper to the foot.
        rule if rule.ends_with("= 1′-0″") => rule.split('″').next()?.parse::<f64>().ok()? / 12.0,
        ratio => {
            let (a, b) = ratio.split_once(':')?;
            a.parse::<f64>().ok()? / b.parse::<f64>().ok()?
        }
    };
    Some((letter.to_owned(), factor))
}

/// Places of the outlines of a view, across and up the sheet, and the
/// middles of the narrow channels between them.
fn lines_of(sheet: &Sheet, view: u16) -> (Vec<f64>, Vec<f64>) {
    let of = |role: Role| {
        let (mut xs, mut ys) = (Vec::new(), Vec::new());
        for mark in sheet.marks.iter().filter(|m| m.role == role && m.shows.view == view) {
            let Ink::Stroke { path, .. } = &mark.ink else { continue };
            for point in path.elements().iter().filter_map(kurbo::PathEl::end_point) {
                xs.push(point.x);
                ys.push(point.y);
            }
        }
        [xs, ys]
    };
    let mut cut = of(Role::CutOutline);
    for places in &mut cut {
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        let middles: Vec<f64> = places
            .windows(2)
            .filter(|pair| pair[1] - pair[0] < 8.0)
            .map(|pair| f64::midpoint(pair[0], pair[1]))
            .collect();
        places.extend(middles);
    }
    // A rebate of an arched rail goes by the rail's straight edge, which is seen beyond the
    // cut.
    let [[mut xs, mut ys], [seen_x, seen_y]] = [cut, of(Role::Outline)];
    xs.extend(seen_x);
    ys.extend(seen_y);
    (xs, ys)
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    /// Every size printed on a detail is the true distance of two lines of its picture,
    /// or of a line and the middle of a screw or drilled hole, at the scale in its
    /// title.
    #[test]
    fn the_scale_of_a_detail_is_true() {
        let mut measured = 0;
        for script in scripts() {
            let (job, parts) = worked(&script, &[]);
            for look in looks() {
                let sheets = draw(&job, &parts, &look).sheets;
                for sheet in detail_sheets(&sheets) {
                    // What else stands on the sheet has no title with the number of a view.
                    let of_view = |mark: &Mark| match &mark.ink {
                        Ink::Text(text) if mark.role == Role::Title && mark.shows.view > 0 => {
                            Some((u32::from(mark.shows.view), titled(&text.reading())?))
                        }
                        _ => None,
                    };
                    let scales: BTreeMap<u32, (String, f64)> =
                        sheet.marks.iter().filter_map(of_view).collect();
                    assert!(!scales.is_empty(), "{script} {look:?}: {} has no detail", sheet.title);
                    for mark in sheet.marks.iter().filter(|m| m.role == Role::DimensionText) {
                        let Some(value) = mark.shows.value else { continue };
                        // Sizes of view n are numbered from 100 n on.
                        let view = mark.shows.dimension / 100;
                        let Some((letter, factor)) = scales.get(&view) else { continue };
                        let apart = value * *factor;
                        let (xs, ys) = lines_of(sheet, u16::try_from(view).unwrap());
                        let found = [xs, ys].iter().any(|places| {
                            places.iter().any(|a| places.iter().any(|b| (b - a - apart).abs() < 1e-6))
                        });
                        assert!(found, "{script} {look:?} {letter}: {value} at {factor}");
                        measured += 1;
                    }
                }
            }
        }
        assert!(measured > 100, "{measured}");
    }

    #[test]
    fn every_joint_is_in_just_one_detail() {
        for script in scripts() {
            let (job, parts) = worked(&script, &[]);
            for look in looks() {
                let details = joint_details(&job, &parts, &look);
                let mut seen: Vec<usize> = details.iter().flat_map(|d| d.1.iter().copied()).collect();
                seen.sort_unstable();
                // Of what is bought by name nothing is drawn.
                let drawn = |j: &usize| !parts.joints[*j].traits.goes_on_last;
                assert_eq!(seen, (0..parts.joints.len()).filter(drawn).collect::<Vec<_>>(), "{script}");
                // Every letter is drawn and titled once.
                let sheets = draw(&job, &parts, &look).sheets;
                // The first of a later piece may stand beside its section.
                let mut titles: Vec<String> = detail_sheets(&sheets)
                    .flat_map(|s| texts(s, Role::Title))
                    .filter_map(|t| titled(&t).map(|t| t.0))
                    .collect();
                titles.sort();
                let mut letters: Vec<String> = details.iter().map(|d| d.0.clone()).collect();
                letters.sort();
                assert_eq!(titles, letters, "{script} {look:?}");
            }
        }
    }

    #[test]
    fn joints_of_one_detail_are_alike_and_the_words_count_them() {
        for script in scripts() {
            let (job, parts) = worked(&script, &[]);
            let look = Look::new(Paper::A3, Unit::Mm, Profile::Iso);
            let sheets = draw(&job, &parts, &look).sheets;
            // A sheet that details share may name parts for other reasons too.
            let notes: Vec<String> = detail_sheets(&sheets).flat_map(|s| texts(s, Role::Note)).collect();
            let mut counts: Vec<usize> = notes
                .iter()
                .filter_map(|n| match n.split_once(" places: parts ") {
                    Some((n, _)) => n.parse().ok(),
                    None => (n.starts_with("Parts ") || n.starts_with("Part ")).then_some(1),
                })
                .collect();
            let mut expected = Vec::new();
            for (letter, joints) in joint_details(&job, &parts, &look) {
                let words: Vec<&str> = joints.iter().map(|j| parts.joints[*j].word).collect();
                let mut places: Vec<Vec<usize>> = Vec::new();
                for j in &joints {
                    let mut at = parts.joints[*j].parts.clone();
                    at.sort_unstable();
                    if !places.contains(&at) {
                        places.push(at);
                    }
                }
                // As many of each word as there are places.
                let mut each: BTreeMap<&str, usize> = BTreeMap::new();
                for word in words {
                    *each.entry(word).or_default() += 1;
                }
                assert!(each.values().all(|n| n % places.len() == 0), "{script} {letter}: {each:?}");
                // Parts of the same stock and thickness meet at every place.
                let stock = |at: &Vec<usize>| {
                    let mut of: Vec<(usize, i64)> = at
                        .iter()
                        .map(|p| (parts.parts[*p].stock.0, (parts.parts[*p].size.z * 100.0).round() as i64))
                        .collect();
                    of.sort_unstable();
                    of
                };
                assert!(places.iter().all(|p| stock(p) == stock(&places[0])), "{script} {letter}");
                expected.push(places.len());
            }
            counts.sort_unstable();
            expected.sort_unstable();
            // One place is told by its parts alone, as other notes name theirs.
            let several = |list: &[usize]| list.iter().copied().filter(|n| *n > 1).collect::<Vec<_>>();
            assert_eq!(several(&counts), several(&expected), "{script}: {notes:?}");
        }
    }
}

/// In plan a haunched tenon looks like a plain one: what is said of both tells them apart,
/// and the joint at the other hand of a leg is the same joint.
#[test]
fn what_is_called_otherwise_is_another_detail() {
    let (job, parts) = worked("readers_stool", &[]);
    let look = Look::new(Paper::A3, Unit::Mm, Profile::Iso);
    let words = rodwright::wording::Words::of(Unit::Mm);
    let called = |joint: &usize| words.called(&parts, &parts.joints[*joint]);
    let mut seen: Vec<String> = Vec::new();
    for (letter, joints) in joint_details(&job, &parts, &look) {
        let first = called(&joints[0]);
        assert!(joints.iter().all(|joint| called(joint) == first), "{letter}: {first}");
        assert!(!first.contains("tenon") || !seen.contains(&first), "{letter}: {first} is drawn twice");
        seen.push(first);
    }
    assert!(seen.iter().any(|name| name.starts_with("haunched")), "{seen:?}");
    assert!(seen.iter().any(|name| name.starts_with("mortise")), "{seen:?}");
}

/// The slope of end grain in section and details is that of the part (ISO 128-50 from
/// memory: the same part the same hatch in all views); neighbours lean against one another.
#[test]
fn end_grain_leans_one_way_on_all_sheets() {
    let mut seen = 0;
    for script in ["card_box", "reading_table"] {
        let (job, parts) = worked(script, &[]);
        let sheets = draw(&job, &parts, &Look::new(Paper::A3, Unit::Mm, Profile::Iso)).sheets;
        // Each part by its number: in which views it leans to the right, in which to the left.
        let mut leans: BTreeMap<String, [usize; 2]> = BTreeMap::new();
        for mark in sheets.iter().flat_map(|sheet| &sheet.marks).filter(|m| m.role == Role::Hatch) {
            let Ink::Stroke { path, .. } = &mark.ink else { continue };
            let Some(kurbo::PathSeg::Line(line)) = path.segments().next() else { continue };
            let run = line.p1 - line.p0;
            if !mark.shows.part.is_empty() && (run.x.abs() - run.y.abs()).abs() < 0.01 * run.hypot() {
                leans.entry(mark.shows.part.clone()).or_default()[usize::from(run.x * run.y < 0.0)] += 1;
            }
        }
        for (part, [left, right]) in &leans {
            assert!(*left == 0 || *right == 0, "{script}: part {part} leans both ways: {left} and {right}");
            seen += usize::from(left + right > 1);
        }
        assert!(leans.values().any(|way| way[0] > 0) && leans.values().any(|way| way[1] > 0), "{script}");
    }
    assert!(seen > 2, "{seen}");
}
