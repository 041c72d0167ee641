//! The figures that checks go by, against published values.

use rodwright::checks::figures::beams::{
    BOOKS, GENERAL, LIMIT, PSF, arm, rod_stress, sag, span_for, thick_for,
};
use rodwright::checks::figures::screws::{
    Across, Hold, lateral, nail_withdrawal, older_k, screw_lateral_older, screw_pulls_out, screw_withdrawal,
};
use rodwright::checks::figures::tipping::{BLOCK, CHILD, PULL, REACH, Weight, moments, tilted};

use crate::support::assert_near;

const INCH: f64 = 25.4;
const POUND: f64 = 4.448_222;
const PSI: f64 = 0.006_894_757;

/// Architectural Woodwork Standards, Edition 1 (2009), section 10: spans printed in whole
/// inches for shelves that bend by L/144.
#[test]
fn printed_shelf_spans_come_out() {
    let rows = [
        (950_000.0, 0.75, 40.0, 40.0),
        (950_000.0, 0.75, 50.0, 37.0),
        (950_000.0, 1.0, 40.0, 53.0),
        (950_000.0, 1.0, 50.0, 49.0),
        (1_800_000.0, 0.75, 40.0, 49.0),
        (1_800_000.0, 0.75, 50.0, 46.0),
        (1_800_000.0, 1.0, 40.0, 66.0),
        (1_800_000.0, 1.0, 50.0, 61.0),
        (1_820_000.0, 0.75, 40.0, 49.0),
        (1_820_000.0, 0.75, 50.0, 46.0),
        (1_820_000.0, 1.0, 40.0, 66.0),
        (1_820_000.0, 1.0, 50.0, 61.0),
    ];
    for (modulus, thick, load, printed) in rows {
        let span = span_for(load * PSF, modulus * PSI, thick * INCH, LIMIT) / INCH;
        // Rounded to a tenth of an inch, then cut to whole ones, as the table does.
        let cut = ((span * 10.0).round() / 10.0).floor();
        assert!((cut - printed).abs() < 1e-9, "{modulus} {thick} {load}: {span}");
    }
    let span = span_for(40.0 * PSF, 950_000.0 * PSI, 0.75 * INCH, LIMIT) / INCH;
    assert_near(span, 40.03, 0.01);
}

/// The three forms are one: a board bends by L/144 at the span for it, and is as thick as
/// is asked for that.
#[test]
fn spans_and_thicknesses_undo_one_another() {
    let (modulus, thick) = (6550.0, 18.0);
    let span = span_for(BOOKS, modulus, thick, LIMIT);
    assert_near(sag(BOOKS, span, modulus, thick), span * LIMIT, 1e-9);
    assert_near(thick_for(BOOKS, span, modulus, LIMIT), thick, 1e-9);
    // Two metres of 12 mm plywood: more than a tenth of the span.
    assert!(sag(GENERAL, 2000.0, modulus, 12.0) > 200.0);
}

/// An arm of 4.5 m with 7.32 kN at 3.25 m, E I = 210e9 × 3.49e-6 N m2: 0.180221 m
/// (a structural engineering text).
#[test]
fn an_arm_bends_as_the_text_says() {
    let stiffness = 210.0e9 * 3.49e-6 * 1e6;
    assert_near(arm(7320.0, 3250.0, 4500.0, stiffness), 180.221, 1e-3);
}

/// National Design Specification for Wood Construction 2018, Table 12.2B: No. 10, G 0.50,
/// 135 lb/in; a formula handbook: G 0.45, 109 lb/in. Wood Handbook Eq. 8-10b: 604 lb.
#[test]
fn screws_hold_in_side_grain_as_printed() {
    let pounds = |per_mm: f64| per_mm * INCH / POUND;
    assert_near(pounds(screw_withdrawal(0.50, 0.190 * INCH)), 135.0, 0.5);
    assert_near(pounds(screw_withdrawal(0.45, 0.190 * INCH)), 109.0, 1.0);
    assert_near(pounds(screw_pulls_out(0.45, 0.190 * INCH)), 604.0, 1.0);
    // Structural Wood Design Solved Example Problems, E2.1a: 49.5 lb over 2.395 in.
    assert_near(pounds(nail_withdrawal(0.42, 0.131 * INCH)) * 2.395, 49.5, 0.1);
}

/// National Design Specification 2018, Tables 12L and 12N, and the older rule of the Wood
/// Handbook, Table 8-4.
#[test]
fn screws_and_nails_bear_across_as_printed() {
    let psi = |value: f64| value * PSI;
    let screw = Across {
        wide: 0.190 * INCH,
        root: 0.152 * INCH,
        yields: psi(80_000.0),
        side: 0.5 * INCH,
        side_gravity: 0.50,
        main: 2.5 * INCH,
        main_gravity: 0.50,
    };
    assert_near(lateral(&screw) / POUND, 90.0, 0.5);
    let nail = |wide: f64, yields: f64| Across {
        wide: wide * INCH,
        root: wide * INCH,
        yields: psi(yields),
        side: 0.75 * INCH,
        main: 2.25 * INCH,
        ..screw
    };
    for (wide, yields, printed) in [
        (0.113, 100_000.0, 72.0),
        (0.131, 100_000.0, 90.0),
        (0.148, 90_000.0, 105.0),
        (0.162, 90_000.0, 121.0),
    ] {
        assert_near(lateral(&nail(wide, yields)) / POUND, printed, 0.6);
    }
    // A cleat of hardwood on a stud, worked by hand: 115.7 lb.
    let cleat = Across { side: 0.75 * INCH, side_gravity: 0.63, main_gravity: 0.42, ..screw };
    assert_near(lateral(&cleat) / POUND, 115.7, 0.5);
    assert_near(screw_lateral_older(29.79, 4.826) / POUND, 156.0, 0.5);
    // Rows of the table by specific gravity.
    for (gravity, softwood, k) in [
        (0.35, true, 23.17),
        (0.45, true, 29.79),
        (0.40, false, 23.17),
        (0.50, false, 31.99),
        (0.68, false, 44.13),
    ] {
        assert_near(older_k(gravity, softwood), k, 1e-9);
    }
}

/// Statics from first principles: 40 kg, 205 mm behind the feet; a drawer of 8 kg and a
/// child at its front.
#[test]
fn a_chest_with_a_child_on_its_drawer_tips() {
    let case = Weight { mass: 40.0, behind: 205.0 };
    let drawer = Weight { mass: 8.0, behind: -220.0 };
    let child = Weight { mass: CHILD, behind: -370.0 };
    let found = moments(&[case, drawer, child], 0.0, 0.0);
    assert_near(found.resist, 80.4, 0.1);
    assert_near(found.tip, 116.0, 0.1);
    assert_near(found.factor(), 0.693, 0.001);
    let pulled = moments(&[case], PULL, REACH);
    assert_near(pulled.tip, 63.3, 0.1);
    assert_near(pulled.factor(), 1.27, 0.005);
    // On a block under its back.
    let moved = tilted(500.0, 430.0, BLOCK);
    assert_near(moved, 12.7, 0.05);
    assert_near(moments(&[Weight { behind: 205.0 - moved, ..case }], 0.0, 0.0).resist, 75.5, 0.1);
    // What nothing pulls does not tip.
    assert!(moments(&[case], 0.0, 0.0).factor().is_infinite());
}

/// A screw of 4.5 mm, 11 mm deep in wood of G 0.42, worked by hand: 2850 G^2 D over 0.433 in
/// is 38.6 lb out, 23.17 D^2 over 11 of 31.5 mm is 163.8 N across, and between them
/// National Design Specification 2018, Eq. 12.4-1.
#[test]
fn a_screw_bears_both_ways_at_once() {
    let hold = Hold { wide: 4.5, deep: 11.0, gravity: 0.42, softwood: false };
    assert_near(hold.bears(1.0, 0.0) / POUND, 38.57, 0.05);
    assert_near(hold.bears(0.0, 1.0), 163.85, 0.05);
    assert_near(hold.bears(0.0, 0.0), 163.85, 0.05);
    // At 45 degrees: 2 W Z / (W + Z).
    assert_near(hold.bears(50.0, 50.0), 2.0 * 171.6 * 163.85 / (171.6 + 163.85), 0.1);
    // As deep as seven diameters or more across.
    assert_near(Hold { deep: 40.0, ..hold }.bears(0.0, 1.0), 23.17 * 4.5 * 4.5, 1e-9);
}

/// 32 M / pi d^3: 15.4 N m on a rod of 12 mm.
#[test]
fn a_rod_is_strained_as_the_closed_form_says() {
    assert_near(rod_stress(15_400.0, 12.0), 90.78, 0.01);
}
