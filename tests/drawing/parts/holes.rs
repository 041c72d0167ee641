//! Many holes go by numbers into a table; many sizes go into as many cells as they need.

use rodwright::drawing::{Look, Paper, Profile, part_sheets};
use rodwright::joinery::{CutKind, WorkedJob, WorkedPart};
use rodwright::machining::Machined;
use rodwright::measure::Unit;
use rodwright::paper::fixes::{Fixes, PlaceId};
use rodwright::paper::{Ink, Role};

use super::{LOOKS, all_come_back, faults, fixtures};

/// A board bored at these places from its face side.
fn pierced(places: &[[f64; 2]]) -> WorkedPart {
    bored(places, [-1.0, 12.0])
}

/// A board bored at these places from one depth to another.
fn bored(places: &[[f64; 2]], [from, to]: [f64; 2]) -> WorkedPart {
    let hole = |at: &[f64; 2]| fixtures::cut(CutKind::ScrewHole, fixtures::bore(*at, 2.5, from, to));
    fixtures::part(1, "Pierced board", [600.0, 300.0, 18.0], places.iter().map(hole).collect())
}

/// A job of one part.
fn job_of(part: WorkedPart) -> (rodwright::model::Job, WorkedJob) {
    let (job, mut worked) = fixtures::cabinet_parts();
    worked.parts = vec![part];
    (job, worked)
}

/// Eleven places of which no three lie at an even pitch.
const SCATTERED: [[f64; 2]; 11] = [
    [21.0, 33.0],
    [50.0, 140.0],
    [97.0, 61.0],
    [150.0, 224.0],
    [183.0, 95.0],
    [260.0, 250.0],
    [331.0, 44.0],
    [407.0, 171.0],
    [455.0, 83.0],
    [519.0, 209.0],
    [577.0, 120.0],
];

/// Figures round views that place a hole, and numbers of holes.
fn told(part: WorkedPart, look: &Look) -> (usize, Vec<String>) {
    let (job, worked) = job_of(part);
    let sheets = part_sheets(&Machined::new(&job, &worked), look);
    let (mut figures, mut numbers) = (0, Vec::new());
    for sheet in &sheets {
        for mark in &sheet.marks {
            let Ink::Text(text) = &mark.ink else { continue };
            let placing = |fixes: &Fixes| match fixes {
                Fixes::Chain { places, .. } => {
                    places.iter().flatten().any(|place| matches!(place, PlaceId::Centre(_)))
                }
                _ => false,
            };
            figures += usize::from(placing(&mark.shows.fixes) && mark.shows.view > 0);
            if mark.role == Role::Symbol && matches!(mark.shows.fixes, Fixes::Cuts(_)) {
                numbers.push(text.reading());
            }
        }
    }
    (figures, numbers)
}

/// What a table of holes owes: no figure round the view, each number twice, and the part back.
fn in_a_table(look: &Look, depths: [f64; 2]) {
    let (figures, mut numbers) = told(bored(&SCATTERED, depths), look);
    assert_eq!(figures, 0, "{look:?}");
    // Once beside the hole and once in the table.
    numbers.sort_by_key(|number| number.parse::<usize>().unwrap());
    let twice: Vec<String> = (1..=11).flat_map(|n: usize| [n.to_string(), n.to_string()]).collect();
    assert_eq!(numbers, twice, "{look:?}");
    let (job, worked) = job_of(bored(&SCATTERED, depths));
    all_come_back(&job, &worked, look);
    assert_eq!(faults(&job, &worked, look), Vec::<String>::new(), "{look:?}");
}

#[test]
fn more_than_eight_scattered_holes_leave_the_view_for_a_table() {
    in_a_table(&Look::new(Paper::A3, Unit::Mm, Profile::Iso), [6.0, 19.0]);
}

#[test]
fn few_holes_and_even_rows_keep_their_figures() {
    let look = Look::new(Paper::A3, Unit::Mm, Profile::Iso);
    let (figures, numbers) = told(pierced(&SCATTERED[..8]), &look);
    assert!(figures >= 8 && numbers.is_empty(), "{figures} {numbers:?}");
    let rows: Vec<[f64; 2]> =
        (0..24).map(|i| [60.0 + 32.0 * f64::from(i % 12), if i < 12 { 37.0 } else { 250.0 }]).collect();
    let (figures, numbers) = told(pierced(&rows), &look);
    assert!(figures <= 4 && numbers.is_empty(), "{figures} {numbers:?}");
}

/// Left out of the quick tier.
mod slow_tests {
    use super::*;

    #[test]
    fn tables_of_holes_are_clear_on_all_papers() {
        for (paper, unit, profile) in LOOKS {
            for depths in [[-1.0, 12.0], [6.0, 19.0]] {
                in_a_table(&Look::new(paper, unit, profile), depths);
            }
        }
    }

    #[test]
    fn a_part_with_very_many_rows_goes_into_as_many_cells_as_it_needs() {
        // Mortises of all sizes, so that each has rows and a note of its own.
        let mortise = |i: u32| {
            let n = f64::from(i);
            let (x, y) = (20.0 + 58.7 * n + n * n * 0.23, 20.0 + (n * 53.0) % 230.0);
            let (a, b) = ([x, y, -1.0], [x + 6.0 + n / 4.0, y + 20.0 + n / 3.0, 5.0 + n / 5.0]);
            fixtures::cut(CutKind::Mortise, fixtures::cuboid(a, b))
        };
        let part =
            || fixtures::part(1, "Crowded board", [1400.0, 300.0, 22.0], (0..20).map(mortise).collect());
        for (paper, unit, profile) in LOOKS {
            let look = Look::new(paper, unit, profile);
            let (job, worked) = job_of(part());
            all_come_back(&job, &worked, &look);
            let outside: Vec<String> =
                faults(&job, &worked, &look).into_iter().filter(|fault| fault.contains("outside")).collect();
            assert_eq!(outside, Vec::<String>::new(), "{look:?}");
        }
    }
}
