//! Joints on faces that lean, slope or are shaped: by closed forms, and what is said
//! where the trade would not join so.

use rodwright::geometry::trig;
use rodwright::joinery::WorkedJob;
use rodwright::solid::Standing;

use crate::support::golden::golden;
use crate::support::joints::{good, near, worked};

/// Messages and helps of a script, without excerpts.
fn problem(text: &str) -> String {
    let (_, problems) = worked("test", text, &[]);
    let said = problems.lines().filter(|l| l.starts_with("error") || l.contains("= help"));
    said.map(|l| l.trim_start().to_owned() + "\n").collect()
}

/// A job in pine and ply with what is asked.
fn job(rest: &str) -> String {
    format!(
        "job(\"Test\", #{{ unit: \"mm\" }});\nlet pine = board_stock(\"Pine\", #{{ thick: [20, 27, 34, 54] }});\n\
         let ply = sheet_stock(\"Plywood\", #{{ thick: 18 }});\npiece(\"Piece\");\n{rest}\n"
    )
}

/// An end that leans out by 10 degrees seen from the front, and a level shelf drawn to
/// where it stands.
fn leaning_end(works: &str) -> String {
    job(&format!(
        "let side = board(\"Side\", pine, #{{ x: [500, 530], y: [0, 300], z: [0, 700], grain: \"z\", splay: 10 }});\n\
         let shelf = board(\"Shelf\", pine, #{{ x: [100, 550], y: [0, 300], z: [300, 320], grain: \"x\" }});\n{works}"
    ))
}

/// A panel whose top slopes by `by` over 400, and what is done to it.
fn sloping_door(shape: &str, works: &str) -> String {
    job(&format!(
        "let door = panel(\"Door\", ply, #{{ x: [0, 400], y: [0, 18], z: [0, 600], grain: \"z\" }});\n{shape}\n{works}"
    ))
}

/// A post, and a board that comes to its middle from the right at `by` degrees off
/// square in plan.
fn brace(by: f64, works: &str) -> String {
    job(&format!(
        "let post = board(\"Post\", pine, #{{ x: [-40, 40], y: [-600, 600], z: [0, 54], grain: \"y\" }});\n\
         let brace = board(\"Brace\", pine, #{{ x: [40, 440], y: [-30, 30], z: [10, 30], grain: \"x\", \
         turn: #{{ axis: \"z\", by: {by:?}, about: [40, 0, 0] }} }});\n{works}"
    ))
}

/// Area on which two parts touch, mm2.
fn touching(job: &WorkedJob, a: usize, b: usize) -> f64 {
    let stand = |i: usize| Standing::new(&job.parts[i].solid, &job.parts[i].at);
    stand(a).contacts(&stand(b)).iter().map(|c| c.area).sum()
}

/// What is cut from a leaning channel: its depth square to the face, as wide on the face
/// as the shelf is thick over the cosine of the lean, as long as the shelf is deep.
#[test]
fn a_shelf_is_housed_in_a_leaning_end() {
    let job = good(&leaning_end("housing(shelf, side, #{ depth: 9 });"));
    let cos = trig::sin_cos(10.0_f64.to_radians()).1;
    let wide = 20.0 / cos;
    near(30.0 * 300.0 * 700.0 - job.parts[0].solid.volume(), 9.0 * wide * 300.0);
    // Bottom and both walls, which are longer than the depth by the lean.
    near(touching(&job, 1, 0), 300.0 * (wide + 2.0 * 9.0 / cos));
}

/// A butt at an angle: the end is sawn to the face, and both touch on its section, which
/// is as long as the board is wide over the cosine.
#[test]
fn a_brace_is_sawn_to_the_face_it_stands_against() {
    for by in [-55.0, -30.0, 12.0, 45.0_f64] {
        let job = good(&brace(by, "butt(brace, post);"));
        let cos = trig::sin_cos(by.to_radians()).1;
        near(touching(&job, 1, 0), 60.0 * 20.0 / cos);
        // The middle of the end stood on the face, so nothing of the volume is lost.
        near(job.parts[1].solid.volume(), 400.0 * 60.0 * 20.0);
        near(job.parts[1].size.x, 400.0 + 30.0 * trig::tan(by.abs().to_radians()));
    }
}

/// A rail stands against a tapered leg where that is thin: it grows by what the taper
/// takes off there, and the end is sawn to the slope.
#[test]
fn a_rail_meets_a_tapered_leg_on_its_taper() {
    let text =
        job("let leg = board(\"Leg\", pine, #{ x: [0, 50], y: [0, 50], z: [0, 700], grain: \"z\" });\n\
         taper(leg, \"right\", #{ by: 20, toward: \"bottom\", start: 100 });\n\
         let rail = board(\"Rail\", pine, #{ x: [50, 400], y: [15, 35], z: [100, 160], grain: \"x\" });\n\
         dowels(rail, leg, #{ dowel: \"8x30\" });");
    let job = good(&text);
    // 20 in 600 from a height of 600 down: at the rail's lower edge 500 below.
    near(job.parts[1].size.x, 350.0 + 20.0 * 500.0 / 600.0);
}

/// Panel and strips fill the sloping panel, and each strip is as thick as asked.
#[test]
fn lippings_lie_along_slopes() {
    for (words, by) in
        [("\"top\"", 120.0), ("[\"top\", \"left\", \"right\"]", 80.0), ("[\"left\", \"top\"]", 200.0)]
    {
        for corner in ["butted", "mitred"] {
            let shape = format!("taper(door, \"top\", #{{ by: {by:?}, toward: \"right\" }});");
            let lip = format!("lipping(door, {words}, pine, #{{ thick: 8, corner: \"{corner}\" }});");
            let job = good(&sloping_door(&shape, &lip));
            let whole: f64 = job.parts.iter().map(|p| p.solid.volume()).sum();
            near(whole, 18.0 * (400.0 * 600.0 - 0.5 * 400.0 * by));
            for strip in &job.parts[1..] {
                near(strip.size.z, 8.0);
                assert!(
                    touching(&job, 0, job.parts.iter().position(|p| std::ptr::eq(p, strip)).unwrap()) > 100.0
                );
            }
        }
    }
}

#[test]
fn what_the_trade_would_not_join_so_is_said() {
    let off = "let lid = board(\"Lid\", pine, #{ x: [0, 200], y: [400, 600], z: [200, 220], grain: \"x\", \
               turn: #{ axis: \"z\", by: 20, about: [0, 500, 0] } });\n";
    let outline = "outline(door, \"front\", #{ points: [[0, 0], [600, 0], [500, 400], [0, 400]] });";
    let bow =
        "outline(door, \"front\", #{ points: [[0, 0], #{ at: [560, 0], rise: 40 }, [560, 400], [0, 400]] });";
    let half = "taper(door, \"top\", #{ by: 100, toward: \"right\", start: 200 });";
    let rebated = "let stile = board(\"Stile\", pine, #{ x: [0, 60], y: [0, 27], z: [0, 600], grain: \"z\" });\n\
                   let pane = panel(\"Field\", ply, #{ x: [50, 400], y: [0, 18], z: [0, 600], grain: \"z\" });\n\
                   let bead = board(\"Bead\", pine, #{ x: [50, 60], y: [18, 27], z: [0, 600], grain: \"z\" });\n\
                   rebate(pane, stile); butt(bead, stile);";
    let cases = [
        ("too flat to be sawn", problem(&brace(70.0, "butt(brace, post);"))),
        ("no face in its way", problem(&brace(30.0, &format!("{off}butt(lid, post);")))),
        ("a head that would not seat", problem(&brace(30.0, "screws(brace, post, #{ screw: \"5x60\" });"))),
        ("a tenon that leans too far", problem(&brace(45.0, "mortise_tenon(brace, post);"))),
        (
            "a groove without a cheek",
            problem(&leaning_end("groove(shelf, side);").replace("[300, 320]", "[688, 708]")),
        ),
        ("sawn to nothing", problem(&brace(30.0, &format!("{off}trim_to(lid, post);")))),
        ("a lipping on an outlined edge", problem(&sloping_door(outline, "lipping(door, \"top\", pine);"))),
        ("a lipping on a broken edge", problem(&sloping_door(half, "lipping(door, \"top\", pine);"))),
        (
            "a lipping that a curve runs out through",
            problem(&sloping_door(bow, "lipping(door, \"top\", pine);")),
        ),
        ("a bead in its rebate", problem(&job(rebated))),
        ("a tongue on an edge askew", problem(&brace(30.0, "tongue(brace, post);"))),
        ("a rebate for a part askew", problem(&brace(30.0, "rebate(brace, post);"))),
        ("a square corner askew", problem(&brace(30.0, "dovetails(brace, post);"))),
        ("a door askew to its post", problem(&brace(30.0, "butt_hinges(brace, post);"))),
        ("buttons askew", problem(&brace(30.0, "buttons(post, brace);"))),
        ("a tongue that meets nothing", problem(&brace(30.0, &format!("{off}tongue(lid, post);")))),
        (
            "a lipping cut to a sliver",
            problem(&sloping_door(
                "lipping(door, \"top\", pine, #{ thick: 7 });",
                "notch(door, #{ x: [8, 400], y: [-1, 19], z: [590, 600] });",
            )),
        ),
    ];
    golden(file!(), &cases);
}
