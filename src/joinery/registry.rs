//! Every word of joinery, one line each.

use super::bench::Joinery;
use super::{
    arris, bevel, biscuits, bridle, butt, butt_hinges, buttons, catch_plate, cup_hinges, dovetails, dowels,
    finger_joint, folded_mitre, frame_clips, glass_points, groove, halving, handles, hanging_cleat, hole,
    housing, inlay, laminate, level, levelling_feet, lipping, loose_tongue, mitre, mortise_tenon, notch,
    outline, pocket_screws, rebate, runners, screws, shelf_pins, spigot, stop, tenons, tongue, wall_bracket,
};
use crate::model::{Arg, OptionKind, Takes, Word};

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
    &shelf_pins::ShelfPins,
    &stop::Stop,
    &catch_plate::CatchPlate,
    &handles::Knob,
    &handles::Pull,
    &handles::InsertNut,
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
    &arris::Chamfer,
    &arris::RoundOver,
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

/// What a word does.
pub(super) fn find(word: &Word) -> Option<&'static dyn Joinery> {
    ALL.iter().copied().find(|j| j.word().name == word.name)
}

/// Two parts.
pub(super) static PAIR: &[Arg] =
    &[Arg { name: "part", takes: Takes::Part }, Arg { name: "to", takes: Takes::Part }];

/// One or more parts let into a member.
pub(super) static PARTS_AND_MEMBER: &[Arg] =
    &[Arg { name: "parts", takes: Takes::Parts }, Arg { name: "member", takes: Takes::Part }];

/// Any length of joinery.
pub(super) const LENGTH: OptionKind = OptionKind::Length { min: 0.0, max: 500.0 };

/// One part.
pub(super) static PART: &[Arg] = &[Arg { name: "part", takes: Takes::Part }];

/// One part and the side of it to work on.
pub(super) static ON_SIDE: &[Arg] =
    &[Arg { name: "part", takes: Takes::Part }, Arg { name: "side", takes: Takes::Value(OptionKind::Side) }];
