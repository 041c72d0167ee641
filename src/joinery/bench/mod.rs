//! The bench: blanks, where parts meet, what words take and hand back.

pub(in crate::joinery) mod alike;
pub(in crate::joinery) mod blank;
pub(in crate::joinery) mod corner;
pub(in crate::joinery) mod cut_kind;
pub(in crate::joinery) mod face;
pub(in crate::joinery) mod fill;
pub(in crate::joinery) mod made;
pub(in crate::joinery) mod meet;
pub(in crate::joinery) mod mitre_plane;
pub(in crate::joinery) mod number;
pub(in crate::joinery) mod opening;
pub(in crate::joinery) mod plane;
pub(in crate::joinery) mod pocket;
pub(in crate::joinery) mod row;
pub(in crate::joinery) mod seam;
pub(in crate::joinery) mod seen;
pub(in crate::joinery) mod takes;
pub(in crate::joinery) mod tolerance;
pub(in crate::joinery) mod worked;
