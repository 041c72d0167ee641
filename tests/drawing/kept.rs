//! What every script and family comes to, kept as short sums: each part as it is cut, its
//! joints, settings, lists and layouts. A sum that differs says that something became
//! another thing: look at it, then write it anew with
//! `UPDATE=1 cargo test --test suite drawing::kept`.

use std::fmt::Debug;
use std::fs;
use std::path::Path;

use rayon::prelude::*;
use rodwright::cutting::shop_lists;
use rodwright::examine;
use rodwright::machining::Machined;

use crate::library::made::request;
use crate::support::golden::golden;
use crate::support::scripts::scripts_in;

/// The last 32 bits of FNV-1a (Fowler, Noll and Vo; their published offset and prime) of what
/// is shown to a ten thousandth of a millimetre; nothing less than nothing.
fn sum(of: &impl Debug) -> u32 {
    let shown = format!("{of:.4?}").replace("-0.0000", "0.0000");
    let hash = shown.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    u32::try_from(hash & 0xffff_ffff).unwrap()
}

/// The sums of one script, a line each.
fn sums(path: &Path) -> String {
    let name = path.file_stem().unwrap().to_string_lossy().into_owned();
    let done = examine(&request(&name, &fs::read_to_string(path).unwrap(), Vec::new()));
    let (job, worked) = done.worked.unwrap();
    let mut lines: Vec<String> = Vec::new();
    for part in &worked.parts {
        let cuts: Vec<_> = part.cuts.iter().map(|cut| (&cut.shape, cut.kind, cut.stage, cut.joint)).collect();
        let seen = sum(&(part.at, part.size, &part.solid.points, cuts));
        lines.push(format!("{seen:08x} {}", part.name));
    }
    for joint in &worked.joints {
        let inserts: Vec<_> = joint.inserts.iter().map(|insert| (&insert.item, &insert.at)).collect();
        let seen = sum(&(&joint.facts, &joint.parts, joint.glued, inserts, &joint.ways_in));
        lines.push(format!("{seen:08x} {}", joint.word));
    }
    // Alike joints one after another have alike sums only where they stand alike.
    let (lists, problems) = shop_lists(&Machined::new(&job, &worked));
    assert!(problems.is_empty(), "{name}: {problems:?}");
    for (what, seen) in [
        ("settings", sum(&lists.settings)),
        ("cutting list", sum(&lists.list)),
        ("layouts", sum(&lists.layouts)),
        ("buying list", sum(&lists.buying)),
    ] {
        lines.push(format!("{seen:08x} {what}"));
    }
    lines.join("\n") + "\n"
}

#[test]
fn what_scripts_come_to_is_kept() {
    let all = [scripts_in("scripts"), scripts_in("tests/drawing/families")].concat();
    let found: Vec<(String, String)> = all
        .par_iter()
        .map(|path| (path.file_stem().unwrap().to_string_lossy().into_owned(), sums(path)))
        .collect();
    let named: Vec<(&str, String)> = found.iter().map(|(name, said)| (name.as_str(), said.clone())).collect();
    golden(file!(), &named);
}
