//! All integration tests in one binary, so that it links once. One module per
//! subject, each in a file beside this one.

#![allow(clippy::unwrap_used, reason = "a test that cannot read its own input has failed")]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::needless_range_loop,
    clippy::case_sensitive_file_extension_comparisons,
    reason = "numbers in tests are small and our own"
)]

mod assembly;
mod buying;
mod checks;
mod checks_moving;
mod cli;
mod details;
mod drawing_parts;
mod drawing_sheets;
mod exploded;
mod families;
mod house;
mod joints;
mod joints_bad_input;
mod joints_by_lot;
mod joints_corners;
mod joints_crossings;
mod joints_fittings;
mod joints_folds;
mod joints_handles;
mod joints_hanging;
mod joints_hinges;
mod joints_inserts;
mod joints_laminate;
mod joints_leaning;
mod joints_match;
mod joints_mortises;
mod joints_screws;
mod joints_sloping;
mod joints_stops;
mod joints_tenon_pegs;
mod joints_ties;
mod joints_tongues;
mod joints_turned;
mod labels;
mod layouts;
mod layouts_checker;
mod layouts_data;
mod layouts_problems;
mod layouts_sets;
mod layouts_sticks;
mod library;
mod library_bounds;
mod library_figures;
mod output;
mod outside;
mod problems;
mod readme;
mod script;
mod sets;
mod sets_by_lot;
mod sets_joints;
mod sets_large;
mod sets_odd;
mod shop_order;
mod site;
mod solids;
mod solids_motion;
mod solids_pairs;
mod solids_rules;
mod solids_views;
mod support;
mod templates;
mod words;
