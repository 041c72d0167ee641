//! The scripts of the furniture library.

/// The furniture library: name and text.
pub(in crate::script) const LIBRARY: &[(&str, &str)] = &[
    ("bench", include_str!("../../../stdlib/bench.rhai")),
    ("bookcase", include_str!("../../../stdlib/bookcase.rhai")),
    ("box", include_str!("../../../stdlib/box.rhai")),
    ("case", include_str!("../../../stdlib/case.rhai")),
    ("chest", include_str!("../../../stdlib/chest.rhai")),
    ("door", include_str!("../../../stdlib/door.rhai")),
    ("drawer", include_str!("../../../stdlib/drawer.rhai")),
    ("drawer_bank", include_str!("../../../stdlib/drawer_bank.rhai")),
    ("face_frame", include_str!("../../../stdlib/face_frame.rhai")),
    ("floating_shelf", include_str!("../../../stdlib/floating_shelf.rhai")),
    ("frame", include_str!("../../../stdlib/frame.rhai")),
    ("hang", include_str!("../../../stdlib/hang.rhai")),
    ("knob", include_str!("../../../stdlib/knob.rhai")),
    ("planter", include_str!("../../../stdlib/planter.rhai")),
    ("plinth", include_str!("../../../stdlib/plinth.rhai")),
    ("post", include_str!("../../../stdlib/post.rhai")),
    ("stock", include_str!("../../../stdlib/stock.rhai")),
    ("stool", include_str!("../../../stdlib/stool.rhai")),
    ("table", include_str!("../../../stdlib/table.rhai")),
    ("turned_leg", include_str!("../../../stdlib/turned_leg.rhai")),
    ("wall_case", include_str!("../../../stdlib/wall_case.rhai")),
];
