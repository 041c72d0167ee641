//! All writers, listed once. A new one is a file beside this and a line in it.

use rayon::prelude::*;

use super::file::File;
use super::lists::{buying, cutting_list, layouts, settings, workbook};
use super::writer::{Finished, Writer};
use super::{drawings, labels, page_pictures};
use crate::problem::Problem;

/// In the order in which their files are named.
const WRITERS: [&dyn Writer; 8] = [
    &drawings::Drawings,
    &labels::Labels,
    &page_pictures::PagePictures,
    &cutting_list::CuttingListFiles,
    &workbook::Workbook,
    &layouts::LayoutFiles,
    &buying::BuyingListFiles,
    &settings::SettingsFiles,
];

/// The files of a set, or what could not be made: a set is whole, or there is none.
/// No kind of file waits for another.
pub fn files(set: &Finished<'_>) -> (Vec<File>, Vec<Problem>) {
    let write = |writer: &&dyn Writer| {
        writer.files(set).map_err(|why| {
            Problem::error(writer.code(), format!("{} could not be made: {why}", writer.makes()))
        })
    };
    let written: Vec<Result<Vec<File>, Problem>> = WRITERS.par_iter().with_max_len(1).map(write).collect();
    let (mut files, mut problems) = (Vec::new(), Vec::new());
    for one in written {
        match one {
            Ok(made) => files.extend(made),
            Err(problem) => problems.push(problem),
        }
    }
    if !problems.is_empty() {
        files.clear();
    }
    (files, problems)
}
