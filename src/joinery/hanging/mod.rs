//! What holds a piece to its wall, its top, its glass or its floor.

pub(in crate::joinery) mod burden;
pub(in crate::joinery) mod buttons;
pub(in crate::joinery) mod frame_clips;
pub(in crate::joinery) mod glass_points;
pub(in crate::joinery) mod hanging_cleat;
pub(in crate::joinery) mod levelling_feet;
pub(in crate::joinery) mod on_site;
pub(in crate::joinery) mod on_wall;
pub(in crate::joinery) mod wall_bracket;
