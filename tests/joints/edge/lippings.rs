//! Lippings keep the size of the whole; bevelled and proud ones by closed forms.

use rodwright::geometry::{DVec3, trig};

use crate::support::joints::{good, near, shelf_and_side, worked};

#[test]
fn lippings_keep_the_size_of_the_whole() {
    for (corner, last) in [("butted", 294.0 * 6.0), ("mitred", 300.0 * 6.0 - 36.0)] {
        let works = format!(
            "lipping(a, [\"front\", \"left\", \"back\"], pine, #{{ thick: 6, corner: \"{corner}\" }});"
        );
        let job = good(&shelf_and_side(&works));
        assert!(job.parts[0].size.abs_diff_eq(DVec3::new(594.0, 288.0, 18.0), 1e-9));
        let volume: f64 =
            job.parts.iter().filter(|p| p.name.starts_with('a')).map(|p| p.solid.volume()).sum();
        near(volume, 600.0 * 300.0 * 18.0);
        let left = job.parts.iter().find(|p| p.name == "a left lipping").unwrap();
        near(left.solid.volume(), last * 18.0);
    }
}

#[test]
fn lippings_are_bevelled_and_stand_proud() {
    // Over the shelf of 18 by 4 each way the strip is 26 wide; a bevel of a takes a
    // triangle of 26 by 26 tan a off its outer face.
    let strip = |options: &str| {
        let text = shelf_and_side(&format!("lipping(a, \"front\", pine, #{{ thick: 12{options} }});"));
        let (job, problems) = worked("test", &text, &[]);
        assert_eq!(problems, "", "{text}");
        let lip = job.parts.iter().find(|p| p.name == "a lipping").unwrap().clone();
        (lip.solid.volume(), lip.size, lip.at)
    };
    let (volume, size, at) = strip(", proud: 4");
    near(volume, 600.0 * 26.0 * 12.0);
    assert!(size.abs_diff_eq(DVec3::new(600.0, 26.0, 12.0), 1e-9), "{size}");
    let low = at.point(DVec3::ZERO).z.min(at.point(size).z);
    near(low, 396.0);
    for (wide, options) in [(18.0, ""), (26.0, ", proud: 4")] {
        let (volume, ..) = strip(&format!("{options}, bevel: 15"));
        near(volume, 600.0 * (wide * 12.0 - 0.5 * wide * wide * trig::tan(15.0_f64.to_radians())));
    }
    near(strip(", bevel: 15, long: \"top\"").0, strip(", bevel: 15, long: \"bottom\"").0);
}
