//! Each rule with a sheet that breaks it and one that keeps it.

use kurbo::{Point, Rect};

use super::{judge, judge_set};
use crate::paper::fixes::{Axis, BoxSide, Fact, Fixes, Measures, NotedCut, PlaceId};
use crate::paper::{Mark, Pen, Role, Sheet, Shows, Text, dash};

fn sheet(marks: Vec<Mark>) -> Sheet {
    Sheet {
        number: "1".into(),
        title: String::new(),
        bookmarks: vec![],
        width: 210.0,
        height: 297.0,
        space: Rect::new(20.0, 10.0, 200.0, 287.0),
        paper: "A4",
        marks,
        full_size: false,
    }
}

fn text(x: f64, y: f64, words: &str) -> Mark {
    Mark::text(Text::plain(Point::new(x, y), words, 2.5), Role::Note)
}

fn line(a: (f64, f64), b: (f64, f64), role: Role) -> Mark {
    Mark::line(a.into(), b.into(), Pen { width: 0.25, dash: dash::SOLID }, role)
}

fn dimension(a: (f64, f64), b: (f64, f64), number: u32) -> Mark {
    line(a, b, Role::Dimension).showing(Shows { dimension: number, ..Shows::default() })
}

#[track_caller]
fn rules(marks: Vec<Mark>, expected: &[&str]) {
    let found = judge(&sheet(marks));
    assert_eq!(found.iter().map(|f| f.rule).collect::<Vec<_>>(), expected, "{found:?}");
}

#[test]
fn each_rule_trips_and_holds() {
    rules(vec![], &["empty"]);
    rules(vec![text(50.0, 50.0, "900"), text(50.0, 56.0, "900")], &[]);
    rules(vec![text(50.0, 50.0, "900"), text(52.0, 51.0, "900")], &["D04"]);
    let through = line((40.0, 49.0), (90.0, 49.0), Role::Outline);
    rules(vec![text(50.0, 50.0, "900"), through.clone()], &["D04"]);
    rules(vec![text(50.0, 50.0, "900"), line((40.0, 51.0), (90.0, 51.0), Role::Outline)], &[]);
    // A mask between line and text clears the ground.
    let clear = Mark::mask(Rect::new(49.0, 47.0, 60.0, 51.0));
    rules(vec![through.clone(), clear.clone(), text(50.0, 50.0, "900")], &[]);
    rules(vec![clear, through, text(50.0, 50.0, "900")], &["D04"]);
    let turned =
        |by: f64| Mark::text(Text::plain(Point::new(60.0, 60.0), "900", 2.5).turned(by), Role::DimensionText);
    rules(vec![turned(90.0)], &[]);
    rules(vec![turned(-90.0)], &["D09"]);
    rules(vec![Mark::text(Text::plain(Point::new(60.0, 60.0), "9", 1.8), Role::Note)], &["height"]);
    let up = dimension((60.0, 30.0), (60.0, 90.0), 1);
    rules(vec![up.clone(), dimension((50.0, 60.0), (90.0, 60.0), 2)], &["D05"]);
    rules(vec![up.clone(), dimension((60.0, 60.0), (90.0, 60.0), 2)], &[]);
    // Two lines of one size do not cross one another, but lie on one line.
    rules(vec![up.clone(), dimension((50.0, 60.0), (90.0, 60.0), 1)], &["D14"]);
    // The names of fields may be smaller than notes.
    let name = |h: f64| Mark::text(Text::plain(Point::new(60.0, 60.0), "Scale", h), Role::Table);
    rules(vec![name(1.8)], &[]);
    rules(vec![name(1.5)], &["height"]);
    let cut = |part: &str| {
        let shows = Shows { part: part.into(), ..Shows::default() };
        line((40.0, 40.0), (90.0, 40.0), Role::CutOutline).showing(shows)
    };
    rules(vec![cut("1"), cut("2")], &[]);
    rules(vec![cut("1"), cut("1")], &["twice"]);
    let wood = line((40.0, 40.0), (90.0, 40.0), Role::Outline);
    rules(vec![wood.clone(), line((50.0, 40.0), (80.0, 40.0), Role::Outline)], &["twice"]);
    rules(vec![wood.clone(), line((90.0, 40.0), (120.0, 40.0), Role::Outline)], &[]);
    rules(vec![wood.clone(), line((50.0, 40.5), (80.0, 40.5), Role::Outline)], &["D18"]);
    rules(vec![wood, line((50.0, 40.8), (80.0, 40.8), Role::Outline)], &[]);
    rules(vec![line((10.0, 40.0), (90.0, 40.0), Role::Outline)], &["D17"]);
    rules(vec![text(50.0, 50.0, "x"), line((10.0, 5.0), (90.0, 5.0), Role::Frame)], &[]);
}

fn figure(height: f64, y: f64) -> Mark {
    Mark::text(Text::plain(Point::new(150.0, y), "900", height), Role::DimensionText)
}

#[test]
fn figures_have_one_height_and_their_lines_keep_apart() {
    rules(vec![figure(3.5, 20.0), figure(3.5, 30.0)], &[]);
    rules(vec![figure(3.5, 20.0), figure(2.5, 30.0)], &["D10"]);
    let at = |y: f64, number| dimension((30.0, y), (90.0, y), number);
    // Dimension lines stand twice the text height apart (office practice).
    rules(vec![figure(3.5, 20.0), at(50.0, 1), at(57.0, 2)], &[]);
    rules(vec![figure(3.5, 20.0), at(50.0, 1), at(55.0, 2)], &["D08"]);
    rules(vec![figure(2.5, 20.0), at(50.0, 1), at(55.0, 2)], &[]);
    // A chain lies on one line; two arrows of one dimension are one.
    let next = dimension((90.0, 50.0), (120.0, 50.0), 2);
    rules(vec![figure(3.5, 20.0), at(50.0, 1), next], &[]);
}

/// The depth of cut 1.
fn depth() -> Fixes {
    let from = BoxSide { axis: Axis::Z, far: false };
    let cut = NotedCut { cut: 1, from, bore: None, against: Vec::new() };
    Fixes::facts(vec![Fact::Depth]).of(&[cut])
}

#[test]
fn figures_say_what_they_stand_for_once() {
    let size = |words: &str, number: u32, value: f64, fixes: Fixes| {
        let below = if words.contains("deep") { 5.0 } else { 0.0 };
        let at = Point::new(40.0, 20.0 + 10.0 * f64::from(number) + below);
        let shows =
            Shows { part: "1".into(), dimension: number, value: Some(value), fixes, ..Shows::default() };
        Mark::text(Text::plain(at, words, 2.5), Role::DimensionText).showing(shows)
    };
    rules(vec![size("864", 1, 864.04, depth()), size("(900)", 2, 900.0, Fixes::Nothing)], &[]);
    rules(vec![size("864", 1, 865.0, depth())], &["D20"]);
    rules(vec![size("2 × 90 (= 180)", 1, 180.0, depth())], &[]);
    rules(vec![size("2 × 90 (= 181)", 1, 181.0, depth())], &["D20"]);
    // The second line of a note may hold the figure.
    rules(vec![size("3 mortises 8 × 40,", 1, 15.0, depth()), size("15 deep", 1, 15.0, Fixes::Nothing)], &[]);
    rules(vec![size("18", 1, 18.0, depth()), size("18", 2, 18.0, depth())], &["D03"]);
}

#[test]
fn dimension_lines_keep_off_the_outline() {
    let wood = line((30.0, 40.0), (90.0, 40.0), Role::Outline);
    rules(vec![wood.clone(), dimension((30.0, 50.0), (90.0, 50.0), 1)], &[]);
    rules(vec![wood, dimension((30.0, 44.0), (90.0, 44.0), 1)], &["D07"]);
}

#[test]
fn what_cannot_be_shown_is_named() {
    rules(vec![text(50.0, 50.0, "Kuppel Ø 35 ⌀")], &[]);
    rules(vec![text(50.0, 50.0, "ארון")], &["character"]);
    let lost = line((f64::NAN, 40.0), (90.0, 40.0), Role::Outline);
    rules(vec![text(50.0, 50.0, "x"), lost], &["nowhere"]);
    let lost = Mark::text(Text::plain(Point::new(50.0, f64::INFINITY), "x", 2.5), Role::Note);
    rules(vec![text(50.0, 50.0, "x"), lost], &["nowhere"]);
}

#[test]
fn section_letters_stand_at_two_ends_and_in_one_title() {
    let at = |x: f64, words: &str, role| Mark::text(Text::plain(Point::new(x, 60.0), words, 5.0), role);
    let end = |x: f64| at(x, "A", Role::SectionMark);
    let title = |x: f64| at(x, "A-A", Role::Title);
    let found = |marks: Vec<Mark>| judge_set(&[sheet(marks)]).iter().map(|f| f.rule).collect::<Vec<_>>();
    assert_eq!(found(vec![end(40.0), end(60.0), title(90.0)]), Vec::<&str>::new());
    assert_eq!(found(vec![end(40.0), title(90.0)]), ["D19"]);
    assert_eq!(found(vec![end(40.0), end(60.0)]), ["D19"]);
    assert_eq!(found(vec![end(40.0), end(60.0), title(90.0), title(120.0)]), ["D19"]);
    assert_eq!(found(vec![at(40.0, "General", Role::Title)]), Vec::<&str>::new());
}

#[test]
fn detail_letters_stand_beside_one_circle_and_in_one_title() {
    let at = |x: f64, words: &str, role| Mark::text(Text::plain(Point::new(x, 60.0), words, 5.0), role);
    let circle = |x: f64| at(x, "B", Role::DetailMark);
    let title = |x: f64| at(x, "B  1:2", Role::Title);
    let found = |marks: Vec<Mark>| judge_set(&[sheet(marks)]).iter().map(|f| f.rule).collect::<Vec<_>>();
    assert_eq!(found(vec![circle(40.0), title(90.0)]), Vec::<&str>::new());
    assert_eq!(found(vec![circle(40.0)]), ["D19"]);
    assert_eq!(found(vec![title(90.0)]), ["D19"]);
    assert_eq!(found(vec![circle(40.0), circle(60.0), title(90.0)]), ["D19"]);
    assert_eq!(found(vec![circle(40.0), title(90.0), title(120.0)]), ["D19"]);
    // Two that share a circle have a title each.
    let both = |second: Option<f64>| {
        let own = [at(40.0, "B C", Role::DetailMark), title(90.0)].into_iter();
        own.chain(second.map(|x| at(x, "C  1:2", Role::Title))).collect::<Vec<_>>()
    };
    assert_eq!(found(both(Some(120.0))), Vec::<&str>::new());
    assert_eq!(found(both(None)), ["D19"]);
    // A title of other words is none of a detail.
    assert_eq!(found(vec![at(40.0, "Cutting list  1", Role::Title)]), Vec::<&str>::new());
}

/// A row of sizes across the sheet at height `y`: heads at its places, a figure
/// over each stretch, extension lines down to `foot`.
fn row(part: &str, number: u32, y: f64, stops: &[f64], figures: &[&str], foot: f64) -> Vec<Mark> {
    let shows = |number: u32| Shows { part: part.into(), view: 1, dimension: number, ..Shows::default() };
    let mut marks = Vec::new();
    for pair in stops.windows(2) {
        marks.push(line((pair[0], y), (pair[1], y), Role::Dimension).showing(shows(number)));
        for (tip, way) in [(pair[0], -1.0), (pair[1], 1.0)] {
            marks.push(head((tip, y), way, 0.0).showing(shows(number)));
        }
    }
    for stop in stops {
        let over = if foot > y { y - 2.0 } else { y + 2.0 };
        marks.push(line((*stop, over), (*stop, foot), Role::Extension).showing(shows(number)));
    }
    for ((i, words), pair) in (0..).zip(figures).zip(stops.windows(2)) {
        let at = Point::new(f64::midpoint(pair[0], pair[1]), y - 1.0);
        let text = Text::plain(at, *words, 2.5).anchored(crate::paper::Anchor::Middle);
        marks.push(Mark::text(text, Role::DimensionText).showing(shows(number + i)));
    }
    marks
}

/// A filled head at `tip` that flies along x by `way` and y by `down`.
fn head(tip: (f64, f64), way: f64, down: f64) -> Mark {
    let mut path = kurbo::BezPath::new();
    path.move_to(tip);
    path.line_to((tip.0 - 2.5 * way - 0.3 * down, tip.1 - 2.5 * down - 0.3 * way));
    path.line_to((tip.0 - 2.5 * way + 0.3 * down, tip.1 - 2.5 * down + 0.3 * way));
    path.close_path();
    Mark::fill(path, 0.0, Role::Arrow)
}

fn dot(x: f64, y: f64) -> Mark {
    let circle = kurbo::Shape::to_path(&kurbo::Circle::new((x, y), 0.5), 0.01);
    Mark::fill(circle, 0.0, Role::Arrow)
}

/// The figures of a part, each with what it fixes, as in a table.
fn sizes_of(part: &str, fixes: &[Fixes]) -> Vec<Mark> {
    let size = |(i, fixes): (u32, &Fixes)| {
        let shows = Shows { part: part.into(), dimension: i + 1, fixes: fixes.clone(), ..Shows::default() };
        let at = Point::new(40.0, 20.0 + 6.0 * f64::from(i));
        Mark::text(Text::plain(at, "18", 2.5), Role::DimensionText).showing(shows)
    };
    (0..).zip(fixes).map(size).collect()
}

/// Length, width and thickness.
fn whole() -> [Fixes; 3] {
    Axis::ALL.map(Fixes::overall)
}

/// A size along the length from place to place, those of one list in one line.
fn along(places: &[&[PlaceId]]) -> Fixes {
    Fixes::Chain { axis: Axis::X, places: places.iter().map(|place| place.to_vec()).collect() }
}

#[test]
fn sizes_of_a_part_make_a_tree_along_each_axis() {
    use PlaceId::{Centre, Datum, End, High, Low};
    let with = |more: &[Fixes]| sizes_of("1", &[&whole()[..], more].concat());
    rules(with(&[]), &[]);
    rules(
        with(&[
            along(&[&[Datum], &[Centre(1)]]),
            along(&[&[Datum], &[Centre(2), Centre(3)]]),
            along(&[&[Datum], &[Centre(4)], &[Centre(5)], &[Centre(6)]]),
        ]),
        &[],
    );
    // A ring: each of three follows from the others.
    rules(with(&[along(&[&[Datum], &[Low(1)]]), along(&[&[Datum], &[High(1), Low(1)]])]), &["D02"]);
    rules(
        with(&[along(&[&[Datum], &[Centre(1)], &[Centre(2)]]), along(&[&[Datum], &[Centre(2)]])]),
        &["D02"],
    );
    // Holes that hang on one another and on no datum.
    rules(with(&[along(&[&[Centre(1)], &[Centre(2)], &[Centre(3)]])]), &["D01"]);
    rules(with(&[along(&[&[Datum], &[Centre(1)]]), along(&[&[Centre(1)], &[Centre(2)]])]), &["D15"]);
    // The length between shoulders is what a rail is marked out by; one hole after another
    // is not, nor what lies between the same sides of two cuts.
    rules(with(&[along(&[&[Datum], &[High(1)]]), along(&[&[High(1)], &[Low(2)]])]), &[]);
    rules(with(&[along(&[&[Datum], &[High(1)]]), along(&[&[High(1)], &[High(2)]])]), &["D15"]);
    rules(sizes_of("1", &whole()[..2]), &["D13"]);
    rules(with(&[along(&[&[Datum], &[Centre(1), End]])]), &["D02", "D13"]);
}

#[test]
fn a_closing_size_stands_in_brackets_and_is_the_sum() {
    let figures = |whole: &'static str| {
        let mut marks = row("", 1, 40.0, &[40.0, 80.0, 120.0], &["40", "40"], 60.0);
        marks.extend(row("", 11, 30.0, &[40.0, 120.0], &[whole], 60.0));
        marks
    };
    rules(figures("80"), &["D02"]);
    rules(figures("(80)"), &[]);
    rules(figures("(81)"), &["D20"]);
    rules(row("", 1, 40.0, &[40.0, 80.0, 120.0], &["40", "40"], 60.0), &[]);
}

#[test]
fn shorter_sizes_stand_inside() {
    let stack = |short: f64, long: f64| {
        let mut marks = row("", 1, short, &[60.0, 80.0], &["20"], 60.0);
        marks.extend(row("", 11, long, &[30.0, 120.0], &["90"], 60.0));
        marks
    };
    rules(stack(40.0, 30.0), &[]);
    rules(stack(30.0, 40.0), &["D06"]);
    // Rows that overlap cross either way.
    let either = |first: f64, second: f64| {
        let mut marks = row("", 1, first, &[40.0, 80.0], &["40"], 60.0);
        marks.extend(row("", 11, second, &[50.0, 120.0], &["70"], 60.0));
        marks
    };
    rules(either(40.0, 30.0), &[]);
    rules(either(30.0, 40.0), &[]);
}

#[test]
fn heads_stand_outside_short_sizes() {
    rules(row("", 1, 40.0, &[40.0, 55.0], &["15"], 60.0), &[]);
    rules(row("", 1, 40.0, &[40.0, 48.0], &["8"], 60.0), &["D11"]);
    let outside = |middle: Vec<Mark>| {
        let shows = Shows { dimension: 1, view: 1, ..Shows::default() };
        let mut marks = vec![line((30.0, 40.0), (70.0, 40.0), Role::Dimension)];
        marks.extend([head((40.0, 40.0), 1.0, 0.0), head((56.0, 40.0), -1.0, 0.0)]);
        marks.extend(middle);
        let mut marks: Vec<Mark> = marks.into_iter().map(|m| m.showing(shows.clone())).collect();
        for (x, number) in [(44.0, 1), (52.0, 2)] {
            let text = Text::plain(Point::new(x - 1.0, 39.0), "8", 2.5);
            let shows = Shows { dimension: number, view: 1, ..Shows::default() };
            marks.push(Mark::text(text, Role::DimensionText).showing(shows));
        }
        marks
    };
    rules(outside(vec![dot(48.0, 40.0)]), &[]);
    rules(outside(vec![head((48.0, 40.0), 1.0, 0.0)]), &["D11", "D11"]);
}

#[test]
fn no_span_between_arrows_is_left_without_its_figure() {
    rules(row("", 1, 40.0, &[40.0, 80.0, 120.0], &["40", "40"], 60.0), &[]);
    let mut open = row("", 1, 40.0, &[40.0, 80.0, 120.0], &["40", "40"], 60.0);
    open.retain(|mark| mark.shows.dimension != 2);
    rules(open, &["D25"]);
    // The head outside a short size, in a long span that no figure stands in.
    rules(beside_a_long_span(Some(head((48.0, 40.0), -1.0, 0.0))), &["D25"]);
    rules(beside_a_long_span(Some(dot(48.0, 40.0))), &[]);
}

/// A size of 8 with a span of 32 without a figure beside it, and what stands between them.
fn beside_a_long_span(between: Option<Mark>) -> Vec<Mark> {
    let shows = Shows { dimension: 1, view: 1, ..Shows::default() };
    let mut marks = vec![line((30.0, 40.0), (80.0, 40.0), Role::Dimension)];
    marks.extend([head((40.0, 40.0), 1.0, 0.0), dot(80.0, 40.0)]);
    marks.extend(between);
    let mut marks: Vec<Mark> = marks.into_iter().map(|m| m.showing(shows.clone())).collect();
    marks.push(Mark::text(Text::plain(Point::new(43.0, 39.0), "8", 2.5), Role::DimensionText).showing(shows));
    marks
}

#[test]
fn no_size_goes_to_a_hidden_edge() {
    let edge = |role| {
        let shows = Shows { part: "1".into(), view: 1, ..Shows::default() };
        let mut marks = row("1", 1, 40.0, &[40.0, 80.0], &["40"], 60.0);
        marks.push(line((40.0, 60.0), (40.0, 80.0), Role::Outline).showing(shows.clone()));
        marks.push(line((80.0, 60.0), (80.0, 80.0), role).showing(shows));
        marks
    };
    rules(edge(Role::Outline), &[]);
    rules(edge(Role::Centre), &[]);
    rules(edge(Role::Hidden), &["D12"]);
}

#[test]
fn an_overall_size_is_outermost() {
    let stack = |overall: f64, other: f64| {
        let mut marks = row("1", 1, overall, &[40.0, 120.0], &["80"], 60.0);
        for mark in marks.iter_mut().filter(|m| m.role == Role::DimensionText) {
            mark.shows.fixes = Fixes::overall(Axis::X);
        }
        marks.extend(row("1", 11, other, &[40.0, 90.0], &["50"], 60.0));
        marks.extend(sizes_of("1", &whole()[1..]).into_iter().map(|mut m| {
            m.shows.dimension += 20;
            m
        }));
        marks
    };
    rules(stack(30.0, 40.0), &[]);
    rules(stack(40.0, 30.0), &["D13", "D06"]);
}

#[test]
fn chains_lie_on_one_line_and_stacked_figures_are_staggered() {
    let mut bent = row("", 1, 40.0, &[40.0, 80.0], &["40"], 60.0);
    rules(bent.clone(), &[]);
    bent.push(dimension((80.0, 41.5), (100.0, 41.5), 1).showing(Shows {
        dimension: 1,
        view: 1,
        ..Shows::default()
    }));
    rules(bent, &["D14"]);
    let three = |aside: f64| {
        let mut marks = row("", 1, 46.0, &[50.0, 110.0], &["60"], 60.0);
        let mut middle = row("", 11, 38.0, &[40.0, 120.0], &["80"], 60.0);
        for mark in &mut middle {
            if let crate::paper::Ink::Text(text) = &mut mark.ink {
                text.at.x += aside;
            }
        }
        marks.extend(middle);
        marks.extend(row("", 21, 30.0, &[30.0, 130.0], &["100"], 60.0));
        marks
    };
    rules(three(0.0), &["D14"]);
    rules(three(8.0), &[]);
}

#[test]
fn leaders_lean_and_end_in_a_head_or_a_dot() {
    let shows = Shows { dimension: 1, ..Shows::default() };
    let leader = |to: (f64, f64), end: Vec<Mark>| {
        let mut marks = vec![
            line((50.0, 50.0), to, Role::Leader),
            line((50.0, 50.0), (48.0, 50.0), Role::Leader),
            text(30.0, 51.0, "groove"),
        ];
        marks.extend(end);
        marks.into_iter().map(|m| m.showing(shows.clone())).collect::<Vec<_>>()
    };
    let lean = |x: f64, y: f64| {
        let long = Point::new(x, y).distance(Point::new(50.0, 50.0));
        head((x, y), (x - 50.0) / long, (y - 50.0) / long)
    };
    rules(leader((70.0, 60.0), vec![lean(70.0, 60.0)]), &[]);
    rules(leader((70.0, 60.0), vec![dot(70.0, 60.0)]), &[]);
    rules(leader((70.0, 60.0), vec![]), &["D16", "D16"]);
    rules(leader((70.0, 53.0), vec![lean(70.0, 53.0)]), &["D16"]);
    let hatch = |dx: f64| line((60.0, 53.0), (60.0 + dx, 58.0), Role::Hatch);
    rules(leader((70.0, 60.0), vec![lean(70.0, 60.0), hatch(10.0)]), &["D16"]);
    rules(leader((70.0, 60.0), vec![lean(70.0, 60.0), hatch(-5.0)]), &[]);
}

#[test]
fn numbers_on_views_stand_in_a_list_and_the_other_way_round() {
    let at = |y: f64, words: &str| Mark::text(Text::plain(Point::new(60.0, y), words, 3.5), Role::ItemNumber);
    let listed = |y: f64, words: &str| {
        let shows = Shows { part: words.into(), ..Shows::default() };
        Mark::text(Text::plain(Point::new(90.0, y), words, 2.5), Role::Note).showing(shows)
    };
    let found = |marks: Vec<Mark>| judge_set(&[sheet(marks)]).iter().map(|f| f.rule).collect::<Vec<_>>();
    assert_eq!(found(vec![at(50.0, "4 L"), at(60.0, "4 R"), listed(50.0, "4")]), Vec::<&str>::new());
    assert_eq!(found(vec![at(50.0, "4"), at(60.0, "5"), listed(50.0, "4")]), ["D21"]);
    assert_eq!(found(vec![at(50.0, "4"), listed(50.0, "4"), listed(60.0, "5")]), ["D21"]);
}

#[test]
fn no_text_stands_on_a_filled_section() {
    let fill = |grey: f32| {
        let area = kurbo::Shape::to_path(&Rect::new(45.0, 45.0, 70.0, 55.0), 0.01);
        Mark::fill(area, grey, Role::Hatch)
    };
    rules(vec![fill(0.0), text(50.0, 50.0, "900")], &["D04"]);
    rules(vec![fill(0.0), Mark::mask(Rect::new(48.0, 46.0, 60.0, 52.0)), text(50.0, 50.0, "900")], &[]);
    // A tint is ground, as of the parts on a layout.
    rules(vec![fill(0.9), text(50.0, 50.0, "900")], &[]);
    rules(vec![fill(0.0), text(80.0, 50.0, "900")], &[]);
    let hatch = line((40.0, 40.0), (60.0, 60.0), Role::Hatch);
    rules(vec![hatch, text(50.0, 51.0, "900")], &["D04"]);
}

/// D22: a wall 60 long on paper, its size above, the furniture's below.
#[test]
fn furniture_stands_on_the_wall_in_a_row_of_its_own() {
    let row = |y: f64, number: u32, figures: &[(f64, f64, &str, Measures)]| {
        let shows = Shows { dimension: number, ..Shows::default() };
        let mut marks = Vec::new();
        for ((from, to, words, measures), dimension) in figures.iter().zip(number..) {
            marks.push(line((*from, y), (*to, y), Role::Dimension).showing(shows.clone()));
            for (tip, way) in [(*from, 1.0), (*to, -1.0)] {
                let mut head = kurbo::BezPath::new();
                head.move_to((tip, y));
                head.line_to((tip + 2.5 * way, y - 0.3));
                head.line_to((tip + 2.5 * way, y + 0.3));
                head.close_path();
                marks.push(Mark::fill(head, 0.0, Role::Arrow).showing(shows.clone()));
            }
            let middle = Point::new(f64::midpoint(*from, *to), y - 1.0);
            let text = Text::plain(middle, *words, 2.5).anchored(crate::paper::Anchor::Middle);
            // The figures of a row have the numbers that follow its own.
            let fixes = Fixes::OnWall { measures: *measures, up: false, from: 0, to: i64::from(dimension) };
            let said = Shows { dimension, fixes, ..Shows::default() };
            marks.push(Mark::text(text, Role::DimensionText).showing(said));
        }
        marks
    };
    let wall = row(40.0, 1, &[(40.0, 160.0, "1200", Measures::Wall)]);
    let judged = |furniture: Vec<Mark>| {
        let marks: Vec<Mark> = wall.iter().cloned().chain(furniture).collect();
        let found = judge(&sheet(marks));
        found.into_iter().filter(|f| f.rule == "D22").map(|f| f.message).collect::<Vec<_>>()
    };
    let piece = (40.0, 100.0, "600", Measures::Furniture);
    assert!(judged(row(70.0, 2, &[piece, (100.0, 160.0, "(600)", Measures::Left)])).is_empty());
    let undivided = judged(row(70.0, 2, &[piece, (100.0, 160.0, "600", Measures::Left)]));
    assert_eq!(undivided, ["no size in brackets says what is left of the wall"]);
    assert_eq!(judged(row(70.0, 2, &[piece])).len(), 2);
    let mixed = judged(row(70.0, 2, &[piece, (100.0, 160.0, "600", Measures::Wall)]));
    assert_eq!(mixed, ["sizes of the wall and of the furniture stand in one row"]);
}

#[test]
fn a_set_is_numbered_and_has_an_index() {
    let page = |number: &str, words: &[&str]| {
        let marks = (0_u8..).zip(words).map(|(i, w)| text(50.0, 50.0 + 10.0 * f64::from(i), w)).collect();
        Sheet { number: number.into(), ..sheet(marks) }
    };
    let rules =
        |sheets: &[Sheet]| judge_set(sheets).iter().map(|f| (f.rule, f.sheet.clone())).collect::<Vec<_>>();
    assert_eq!(rules(&[page("1", &["1 / 2", "Sheets"]), page("2", &["2 / 2"])]), []);
    assert_eq!(rules(&[page("1", &["1 / 2", "Sheets"]), page("2", &["3 / 2"])]), [("D23", "2".into())]);
    assert_eq!(rules(&[page("1", &["1 / 2"]), page("2", &["2 / 2"])]), [("D23", "1".into())]);
    // Labels are no set.
    assert_eq!(rules(&[page("1", &["Shelf"]), page("2", &["Shelf"])]), []);
}

/// A hole of cut `cut` noted, and its figure along the length, beside a view or in a table.
fn placed_hole(cut: usize, at: f64, in_view: bool) -> Vec<Mark> {
    let number = u32::try_from(2 * cut).unwrap();
    let from = BoxSide { axis: Axis::Z, far: false };
    let of = NotedCut { cut, from, bore: None, against: Vec::new() };
    let says = |fixes: Fixes, dimension: u32, value: f64| Shows {
        part: "1".into(),
        dimension,
        value: Some(value),
        fixes,
        ..Shows::default()
    };
    let y = 30.0 + 20.0 * at;
    let note = Text::plain(Point::new(150.0, y), "Ø5 through", 2.5);
    let note = Mark::text(note, Role::DimensionText).showing(says(
        Fixes::facts(vec![Fact::Diameter]).of(&[of]),
        number,
        5.0,
    ));
    let fixes = Fixes::from_datum(Axis::X, vec![PlaceId::Centre(cut)]);
    let figure = Text::plain(Point::new(60.0, y - 1.0), "40", 2.5);
    let figure = Mark::text(figure, Role::DimensionText).showing(says(fixes, number + 1, 40.0));
    let mut marks = vec![note, figure];
    for mark in &mut marks {
        mark.shows.view = u16::from(in_view);
    }
    marks
}

#[test]
fn many_holes_stand_in_a_table_by_numbers() {
    let holes = |count: u8, in_view: bool| -> Vec<&str> {
        let marks = (1..=count).flat_map(|i| placed_hole(usize::from(i), f64::from(i), in_view)).collect();
        judge(&sheet(marks)).iter().map(|f| f.rule).filter(|rule| *rule == "D26").collect()
    };
    assert_eq!(holes(9, true), ["D26"]);
    assert_eq!(holes(8, true), Vec::<&str>::new());
    assert_eq!(holes(9, false), Vec::<&str>::new());
    let from = BoxSide { axis: Axis::Z, far: false };
    let number = |x: f64, view: u16, words: &str| {
        let cut = NotedCut { cut: 1, from, bore: None, against: Vec::new() };
        let fixes = Fixes::facts(Vec::new()).of(&[cut]);
        let shows = Shows { part: "1".into(), view, fixes, ..Shows::default() };
        Mark::text(Text::plain(Point::new(x, 60.0), words, 2.5), Role::Symbol).showing(shows)
    };
    rules(vec![number(50.0, 1, "1, 2"), number(70.0, 0, "1"), number(90.0, 0, "2")], &[]);
    rules(vec![number(50.0, 1, "1, 2"), number(70.0, 0, "1")], &["D27"]);
    rules(vec![number(70.0, 0, "1")], &["D27"]);
}

#[test]
fn a_note_counts_instead_of_saying_typical() {
    let note = |words: &str| Mark::text(Text::plain(Point::new(60.0, 60.0), words, 2.5), Role::DimensionText);
    rules(vec![note("4 holes through")], &[]);
    rules(vec![note("hole through, typ")], &["D24"]);
    rules(vec![note("typical hole")], &["D24"]);
}
