//! Loose tenons, dowels, biscuits, shelf pins and screws: every hole of both parts,
//! worked by hand from the rule of the word, and each refusal on both sides of its
//! bound.

use crate::support::joints::{boards, good, shelf_and_side};
use crate::support::said::called;
use crate::support::set_out::{Case, bound, bounds, check};

fn case<'c>(script: String, a: &'c [&'c str], b: &'c [&'c str]) -> Case<'c> {
    Case { script, a, b }
}

/// A shelf 270 deep that hangs free between its sides, `gap` from the right one.
fn shelf_on_pins(gap: f64, works: &str) -> String {
    boards(
        [[19.0, 618.0 - gap], [0.0, 270.0], [200.0, 218.0]],
        [[618.0, 636.0], [0.0, 280.0], [0.0, 800.0]],
        ["x", "z"],
        works,
    )
}

/// A rail as wide and as thick as said against a stile 60 wide.
fn rail_and_stile(wide: f64, thick: f64, works: &str) -> String {
    boards(
        [[60.0, 400.0], [0.0, thick], [0.0, wide]],
        [[0.0, 60.0], [0.0, thick], [0.0, 900.0]],
        ["x", "z"],
        works,
    )
}

#[test]
fn loose_tenons_and_dowels_by_hand() {
    let s = shelf_and_side;
    check(&[
        // Five times as wide as thick, in the middle of each half; 14 deep in the side
        // with 3 behind and 1 to spare, the other 26 in the shelf.
        case(
            s("loose_tenons(a, b, #{ tenon: \"8x40\" });"),
            &["2 mortise x 591..618 y 55..95 205..245 z 405..413"],
            &["2 mortise x 618..633 y 55..95 205..245 z 405..413"],
        ),
        case(
            s("loose_tenons(a, b, #{ tenon: \"6x20\", count: 3, width: 30 });"),
            &["3 mortise x 607..618 y 35..65 135..165 235..265 z 406..412"],
            &["3 mortise x 618..629 y 35..65 135..165 235..265 z 406..412"],
        ),
        case(
            s(
                "loose_tenons(a, b, #{ tenon: \"6x20\", count: 1, width: 30, offset: 2, toward: \"bottom\" });",
            ),
            &["mortise x 607..618 y 135..165 z 404..410"],
            &["mortise x 618..629 y 135..165 z 404..410"],
        ),
        // Half of 30 and 1 to spare leave 2 of the side: one less in it.
        case(
            s("dowels(a, b, #{ dowel: \"8x30\", count: 3 });"),
            &["3 dowel hole x 601..618 y 26..34 146..154 266..274 z 405..413"],
            &["3 dowel hole x 618..633 y 26..34 146..154 266..274 z 405..413"],
        ),
        // 240 in steps of 80 at most, and of 79.
        case(
            s("dowels(a, b, #{ dowel: \"6x24\", spacing: 80 });"),
            &["4 dowel hole x 605..618 y 27..33 107..113 187..193 267..273 z 406..412"],
            &["4 dowel hole x 618..631 y 27..33 107..113 187..193 267..273 z 406..412"],
        ),
        case(
            s("dowels(a, b, #{ dowel: \"6x24\", spacing: 79 });"),
            &["5 dowel hole x 605..618 y 27..33 87..93 147..153 207..213 267..273 z 406..412"],
            &["5 dowel hole x 618..631 y 27..33 87..93 147..153 207..213 267..273 z 406..412"],
        ),
        case(
            s("dowels(a, b, #{ dowel: \"8x30\", count: 2, inset: 50, offset: 2, toward: \"top\" });"),
            &["2 dowel hole x 601..618 y 46..54 246..254 z 407..415"],
            &["2 dowel hole x 618..633 y 46..54 246..254 z 407..415"],
        ),
    ]);
}

#[test]
fn rows_at_their_bounds() {
    let s = shelf_and_side;
    let d = |works: &str| s(&format!("dowels(a, b, #{{ dowel: {works} }});"));
    let l = |works: &str| s(&format!("loose_tenons(a, b, #{{ tenon: {works} }});"));
    let b = |works: &str| s(&format!("biscuits(a, b, #{{ size: {works} }});"));
    let thin = |to: &str| s("biscuits(a, b, #{ size: \"20\" });").replace("636.0]", to);
    let shelf = |to: &str| s("biscuits(a, b);").replace("418.0]", to);
    bounds(&[
        bound(l, "@", ["\"12x40\"", "\"12.1x40\""], "breaks-through"),
        bound(l, "\"8x@\"", ["4", "3.9"], "does-not-fit"),
        bound(l, "\"8x20\", width: @", ["144", "144.1"], "mortises-collide"),
        // Twice the thickness and two walls at least: 22 of 300.
        bound(l, "\"8x20\", count: @", ["13", "14"], "mortises-collide"),
        bound(l, "\"8x20\", offset: @, toward: \"top\"", ["2", "2.1"], "breaks-through"),
        bound(l, "\"4x20\", offset: @, toward: \"front\"", ["100", "147.1"], "does-not-fit"),
        bound(d, "@", ["\"12x40\"", "\"12.1x40\""], "breaks-through"),
        bound(d, "\"8x@\"", ["16", "15.9"], "does-not-fit"),
        bound(d, "\"8x30\", inset: @", ["7", "6.9"], "too-near-the-edge"),
        bound(d, "\"8x30\", inset: @", ["150", "150.1"], "does-not-fit"),
        // Three diameters apart: ten gaps of 24 in 240.
        bound(d, "\"8x30\", count: @", ["11", "12"], "inserts-collide"),
        bound(d, "\"8x30\", offset: @, toward: \"top\"", ["2", "2.1"], "breaks-through"),
        bound(b, "\"20\", inset: @", ["35.9", "35.8"], "too-near-the-edge"),
        (thin("633.3]"), thin("633.2]"), "breaks-through"),
        (shelf("410.0]"), shelf("409.9]"), "does-not-fit"),
    ]);
}

#[test]
fn a_dowel_left_open_is_the_longest_that_holds() {
    let fits = |from: f64, side: f64| {
        let text = shelf_and_side("dowels(a, b);")
            .replace("[18.0, 618.0]", &format!("[{from:?}, 618.0]"))
            .replace("636.0]", &format!("{:?}]", 618.0 + side));
        called(&good(&text), 0).replace("4 dowels ", "")
    };
    // A hole is 1 deeper than its dowel reaches and leaves 3: of 12 it takes 8, which is
    // as much as the dowel is thick, and the other 32 are in the shelf.
    assert_eq!([34.0, 18.0, 12.0].map(|side| fits(18.0, side)), ["8 × 40", "8 × 40", "8 × 40"]);
    assert_eq!([11.9, 10.0].map(|side| fits(18.0, side)), ["6 × 30", "6 × 30"]);
    // A shelf of 22 takes 18 at most: 32 half and half less 2, else three times as long
    // as thick.
    assert_eq!([596.0, 596.1].map(|from| fits(from, 18.0)), ["8 × 32", "8 × 24"]);
}

#[test]
fn biscuits_by_hand() {
    let s = shelf_and_side;
    let slot = |script: String| {
        let job = good(&script);
        let (low, high) = job.parts[1].cuts[0].shape.outline.bounds().unwrap();
        (job.parts[1].cuts.len(), ((high.x - low.x) * 10.0).round() / 10.0, high.y - low.y)
    };
    let thick = |thick: f64| s("biscuits(a, b);").replace("636.0]", &format!("{:?}]", 618.0 + thick));
    // The chord of a circle of 100: twice the root of d (100 - d).
    assert_eq!(slot(thick(15.3)), (3, 65.7, 12.3));
    assert_eq!(slot(thick(15.2)), (3, 60.0, 10.0));
    assert_eq!(slot(thick(13.0)), (3, 60.0, 10.0));
    assert_eq!(slot(thick(12.9)), (3, 54.3, 8.0));
    assert_eq!(slot(thick(11.0)), (3, 54.3, 8.0));
    // 200 between the outer ones: 100 apart, and 67 where no more is wanted.
    assert_eq!(slot(s("biscuits(a, b, #{ size: \"0\", spacing: 99 });")).0, 4);
    assert_eq!(slot(s("biscuits(a, b, #{ size: \"0\", spacing: 100 });")).0, 3);
    assert_eq!(slot(s("biscuits(a, b, #{ size: \"0\", spacing: 200 });")).0, 2);
}

#[test]
fn shelf_pins_by_hand() {
    let rows = "x 618..630 y 34.5..39.5 230.5..235.5";
    let usual = format!("10 fitting hole {rows} z 131..136 163..168 195..200 227..232 259..264");
    let asked = "8 fitting hole x 618..628 y 17..23 247..253 z 144..150 169..175 194..200 219..225";
    let works = "shelf_pins(a, [b], #{ up: 1, down: 2, pitch: 25, setback: 20, pin: \"6x10\" });";
    check(&[
        case(shelf_on_pins(1.0, "shelf_pins(a, [b]);"), &[], &[&usual]),
        case(shelf_on_pins(1.0, works), &[], &[asked]),
    ]);
    let on = |works: &str| shelf_on_pins(1.0, works);
    let high = |to: &str| on("shelf_pins(a, [b], #{ up: 2, pitch: 93.75, down: 0 });").replace("800.0]", to);
    bounds(&[
        (
            shelf_on_pins(3.0, "shelf_pins(a, [b]);"),
            shelf_on_pins(3.1, "shelf_pins(a, [b]);"),
            "parts-do-not-meet",
        ),
        bound(on, "shelf_pins(a, [b], #{ pin: \"5x@\" });", ["16", "16.1"], "breaks-through"),
        bound(on, "shelf_pins(a, [b], #{ setback: @ });", ["130", "130.1"], "does-not-fit"),
        // The lowest stands two pins over the end of the side: 197.5 less twice 93.75.
        bound(on, "shelf_pins(a, [b], #{ down: 2, pitch: @ });", ["93.75", "93.8"], "does-not-fit"),
        (high("395.0]"), high("394.9]"), "does-not-fit"),
    ]);
}

#[test]
fn pocket_screws_by_their_bounds() {
    let count = |wide: f64| {
        let job = good(&rail_and_stile(wide, 20.0, "pocket_screws(a, b);"));
        job.parts[0].cuts.iter().filter(|cut| cut.kind.name() == "screw pocket").count()
    };
    // One below 40, two to 150 and 300, then one for every 150.
    assert_eq!([39.9, 40.0, 300.0, 300.1, 450.0, 450.1].map(count), [1, 2, 3, 4, 4, 5]);
    let screw = |thick: f64| {
        let job = good(&rail_and_stile(60.0, thick, "pocket_screws(a, b);"));
        called(&job, 0)
    };
    for (thick, size) in [
        (14.0, "4 × 25"),
        (14.1, "4 × 32"),
        (20.0, "4 × 32"),
        (20.1, "4 × 38"),
        (26.0, "4 × 38"),
        (26.1, "5 × 64"),
    ] {
        assert!(screw(thick).contains(size), "{thick}: {}", screw(thick));
    }
    let rail = |works: &str| rail_and_stile(62.0, 20.0, works);
    let thin = |thick: f64| rail_and_stile(62.0, thick, "pocket_screws(a, b);");
    bounds(&[
        // 15.5 for each: a pocket of 9.5 and two walls.
        bound(rail, "pocket_screws(a, b, #{ count: @ });", ["4", "5"], "does-not-fit"),
        // 4 mm of wood under the head: 2 (4 sin 15° + 0.25) + 9.5 cos 15° is 11.75.
        (thin(11.8), thin(11.7), "breaks-through"),
        bound(rail, "pocket_screws(a, b, #{ screw: \"@x40\" });", ["7.4", "7.5"], "does-not-fit"),
        bound(rail, "pocket_screws(a, b, #{ face: @ });", ["\"front\"", "\"top\""], "no-such-edge"),
    ]);
}

#[test]
fn screws_by_hand() {
    // Through the side, 18 thick, into the end of the shelf: 40 from the ends and in
    // steps of no more than 150; the pilot is 0.7 of 4.
    let s = shelf_and_side;
    check(&[
        case(
            s("screws(b, a, #{ screw: \"4x40\" });"),
            &["3 screw hole x 596..618 y 38.6..41.4 148.6..151.4 258.6..261.4 z 407.6..410.4"],
            &["3 screw hole x 618..636 y 38..42 148..152 258..262 z 407..411"],
        ),
        case(
            s("screws(b, a, #{ screw: \"4x40\", spacing: 109 });"),
            &["4 screw hole x 596..618 y 40.6..43.4 112.6..115.4 184.6..187.4 256.6..259.4 z 407.6..410.4"],
            &["4 screw hole x 618..636 y 40..44 112..116 184..188 256..260 z 407..411"],
        ),
        // The plug is three quarters as deep as wide, and the screw starts below it.
        case(
            s("screws(b, a, #{ screw: \"4x40\", count: 1, plug: 8 });"),
            &["screw hole x 590..618 y 148.6..151.4 z 407.6..410.4"],
            &["counterbore x 630..636 y 146..154 z 405..413", "screw hole x 618..630 y 148..152 z 407..411"],
        ),
        // Half of the side at most.
        case(
            s("screws(b, a, #{ screw: \"4x40\", count: 1, plug: 12 });").replace("636.0]", "634.0]"),
            &["screw hole x 586..618 y 148.6..151.4 z 407.6..410.4"],
            &["counterbore x 626..634 y 144..156 z 403..415", "screw hole x 618..626 y 148..152 z 407..411"],
        ),
        case(
            s("screws(b, a, #{ screw: \"4x30\", count: 1, counterbore: \"9x10\" });"),
            &["screw hole x 596..618 y 148.6..151.4 z 407.6..410.4"],
            &[
                "counterbore x 626..636 y 145.5..154.5 z 404.5..413.5",
                "screw hole x 618..626 y 148..152 z 407..411",
            ],
        ),
    ]);
    bounds(&[
        // A diameter at least in the shelf.
        bound(s, "screws(b, a, #{ screw: \"4x@\" });", ["22.1", "22"], "screw-too-short"),
        bound(s, "screws(b, a, #{ screw: \"@x60\" });", ["12", "12.1"], "does-not-fit"),
        bound(s, "screws(b, a, #{ screw: \"4x40\", plug: @ });", ["8", "7.9"], "does-not-fit"),
        bound(
            s,
            "screws(b, a, #{ screw: \"4x40\", plug: 12, plug_depth: @ });",
            ["15", "15.1"],
            "breaks-through",
        ),
        bound(s, "screws(b, a, #{ screw: \"4x40\", counterbore: \"@x6\" });", ["8", "7.9"], "does-not-fit"),
        bound(
            s,
            "screws(b, a, #{ screw: \"4x40\", counterbore: \"9x@\" });",
            ["15", "15.1"],
            "breaks-through",
        ),
        bound(s, "screws(b, a, #{ screw: \"4x@\" });", ["618", "618.1"], "breaks-through"),
    ]);
}
