//! Every word of joinery, one line each.

use crate::joinery::bench::made::Joinery;
use crate::joinery::channels::{beads, groove, halving, housing, rebate};
use crate::joinery::corners::{dovetails, finger_joint, folded_mitre, mitre};
use crate::joinery::doors::{butt_hinges, catch_plate, cup_hinges, handles, runners, slides, stop};
use crate::joinery::edge::{butt, laminate, lipping, loose_tongue, tongue};
use crate::joinery::facts::traits::Traits;
use crate::joinery::hanging::{
    buttons, frame_clips, glass_points, hanging_cleat, levelling_feet, wall_bracket,
};
use crate::joinery::inserts::{
    biscuits, dowels, fitting, loose_tenons as tenons, pocket_screws, screws, shelf_pins,
};
use crate::joinery::shaping::{arris, bevel, hole, level, mould, notch, outline, trim_to};
use crate::joinery::tenons::{bridle, mortise_tenon};
use crate::joinery::turning::{inlay, spigot};
use crate::model::Word;

/// Everything joinery knows, in the order of the reference.
pub(super) static ALL: &[&dyn Joinery] = &[
    &butt::Butt,
    &mitre::Mitre,
    &folded_mitre::FoldedMitre,
    &tenons::LooseTenons,
    &dowels::Dowels,
    &biscuits::Biscuits,
    &mortise_tenon::MortiseTenon,
    &bridle::Bridle,
    &halving::Halving,
    &housing::Housing,
    &groove::Groove,
    &rebate::Rebate,
    &beads::Beads,
    &screws::Screws,
    &finger_joint::FingerJoint,
    &dovetails::Dovetails,
    &tongue::Tongue,
    &loose_tongue::LooseTongue,
    &pocket_screws::PocketScrews,
    &lipping::Lipping,
    &laminate::Laminate,
    &spigot::Spigot,
    &cup_hinges::CupHinges,
    &butt_hinges::ButtHinges,
    &runners::Runners,
    &slides::Slides,
    &shelf_pins::ShelfPins,
    &stop::Stop,
    &catch_plate::CatchPlate,
    &handles::Knob,
    &handles::Pull,
    &handles::InsertNut,
    &fitting::Fitting,
    &hanging_cleat::HangingCleat,
    &wall_bracket::WallBracket,
    &frame_clips::FrameClips,
    &glass_points::GlassPoints,
    &levelling_feet::LevellingFeet,
    &buttons::Buttons,
    &outline::Shape,
    &bevel::Taper,
    &bevel::Bevel,
    &level::Level,
    &trim_to::TrimTo,
    &arris::Chamfer,
    &arris::RoundOver,
    &mould::Mould,
    &hole::Hole,
    &hole::Slot,
    &notch::Notch,
    &inlay::Rings,
    &inlay::Hollow,
];

/// The same as data, for the script engine.
static WORDS: std::sync::LazyLock<Vec<&'static Word>> =
    std::sync::LazyLock::new(|| ALL.iter().map(|j| j.word()).collect());

/// The words of joinery.
pub fn words() -> &'static [&'static Word] {
    &WORDS
}

/// The names of the words all of whose joints have a trait, for a message that
/// advises one of them.
pub fn words_that(have: impl Fn(&Traits) -> bool) -> impl Iterator<Item = &'static str> {
    ALL.iter().filter(move |joinery| have(&joinery.traits())).map(|joinery| joinery.word().name)
}

/// What a word does.
pub(super) fn find(word: &Word) -> Option<&'static dyn Joinery> {
    ALL.iter().copied().find(|j| j.word().name == word.name)
}
