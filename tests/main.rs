//! All integration tests in one binary, so that it links once. This file is their
//! map: a folder for each subject, a file for each question, and the golden texts
//! beside the test that compares with them. What has `slow` in its path is left out of
//! the quick tier: `cargo test --test suite -- --skip slow`.

#![allow(clippy::unwrap_used, reason = "a test that cannot read its own input has failed")]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::needless_range_loop,
    clippy::case_sensitive_file_extension_comparisons,
    reason = "numbers in tests are small and our own"
)]

mod house;
mod map;
mod messages;
mod support;

/// From the text of a script to a job, and what is wrong with it.
mod script {
    mod jobs;
    mod problems;
    mod refused;
    mod stands;
    mod writings;
    pub(crate) mod words;
}

/// Scripts that mean harm, or none and are broken all the same.
mod strangers {
    mod attack;
    mod changed;
    mod lot;
    mod made;
    mod once;
    pub(crate) mod scripts;
    mod sets;
    mod ways_out;
}

/// Bodies less cutters, with nothing of wood about them.
mod solids {
    mod leaning;
    mod motion;
    mod pairs;
    mod perspective;
    mod rules;
    mod views;
    mod volumes;
}

/// What a job costs, what is asked for it, and a price for each row of a table.
mod estimate {
    mod client;
    mod money;
    mod rates;
    mod tables;
    mod unpriced;
}

/// What a change of mind does to a job.
mod changing {
    mod by_hand;
    mod compare;
    mod sizes;
}

/// What is done to each part, from which face.
mod machining {
    mod by_hand;
    mod settings;
}

/// Every word of joinery, by closed forms and by lot.
mod joints {
    mod general;
    /// What lies along an edge or face to face.
    mod edge {
        mod laminate;
        mod lippings;
    }
    /// Grooves, tongues and housings.
    mod channels {
        mod beads;
        mod housings;
        mod tongues;
    }
    mod tenons {
        mod leaning;
        mod loose;
        mod mortises;
        mod pegs;
        mod shaped;
        mod wedges;
    }
    /// Dowels, biscuits and screws.
    mod inserts {
        mod fitting;
        mod rows;
        mod screws;
    }
    mod corners {
        mod boxes;
        mod crossings;
        mod folds;
        mod hoppers;
        mod mitres;
        mod sloping;
    }
    /// What opens, and what holds it shut.
    mod doors {
        mod handles;
        mod hinges;
        mod runners;
        mod stops;
    }
    /// What hangs, and what holds without glue.
    mod hanging {
        mod cleats;
        mod fittings;
    }
    /// Every cut of two parts in figures worked by hand.
    mod set_out {
        mod by_lot;
        mod channels;
        mod doors;
        mod drawn;
        mod ends;
        mod hanging;
        mod rows;
        mod shapes;
        mod shut;
        mod stands;
        mod words;
    }
    mod shaping {
        mod mouldings;
        mod sawn;
        mod shapes;
    }
    mod turning {
        mod turned;
    }
    /// Where parts meet as they are: leaning, sloping, shaped.
    mod meeting {
        mod faces;
    }
    /// All words at once.
    pub(crate) mod lot {
        mod any_lean;
        mod bad_input;
        pub(crate) mod by_lot;
        mod sides;
        mod ties;
    }
}

/// What is found amiss in sound scripts.
mod checks {
    mod figures;
    mod findings;
    mod moving;
    mod niche;
    mod ready;
    mod shaped;
    mod wall;
    mod years;
}

/// Cutting lists, layouts and what to buy.
mod cutting {
    mod boards;
    mod buying;
    mod by_hand;
    pub(crate) mod checker;
    pub(crate) mod instances;
    mod layouts;
    mod nearby;
    mod refused;
    mod shop_order;
    mod sold;
    mod sticks;
    mod together;
    mod whole_jobs;
}

mod workshop {
    mod askew;
    mod bench;
    mod order;
    mod papers;
    mod rough;
    mod saw;
    mod schema;
    mod trim;
    mod whole;
}

mod assembly {
    mod asked;
    mod awkward;
    mod by_lot;
    mod care;
    mod finishing;
    mod order;
    mod moved;
    pub(crate) mod play;
    mod pressing;
}

/// Sheets, each kind and whole sets, and the files they are written to.
mod drawing {
    mod client;
    mod details;
    mod exploded;
    mod families;
    mod kept;
    mod labels;
    pub(crate) mod parts;
    mod refused;
    mod sheets;
    /// Whole sets, too many for the quick tier.
    mod slow_sets {
        mod by_lot;
        mod checklist;
        mod joint_details;
        mod large;
        mod odd;
        mod scripts;
        mod templates;
    }
    mod writers;
}

/// Files for other programs, read back.
mod exchange {
    mod dxf;
    mod gltf;
    mod workbook;
}

/// The types of furniture of `stdlib/`.
mod library {
    mod alike;
    mod bounds;
    mod figures;
    mod inches;
    pub(crate) mod made;
    mod stocks;
}

/// What is typed, and what the README says of it.
mod cli {
    mod asked;
    mod commands;
    mod guide;
    mod kills;
    mod locked;
    mod memory;
    mod readme;
}

/// What programs that are not ours see.
mod outside {
    mod renders;
    mod strangers;
}
