//! All writers, listed once. A new one is a file beside this and a line in it.

use rayon::prelude::*;

use super::file::File;
use super::lists::{buying, cutting_list, job, layouts, order, settings, workbook};
use super::writer::{Finished, Writer};
use super::{drawings, dxf, glb, labels, page_pictures};
use crate::problem::Problem;

/// In the order in which their files are named.
const WRITERS: [&dyn Writer; 12] = [
    &drawings::Drawings,
    &labels::Labels,
    &page_pictures::PagePictures,
    &cutting_list::CuttingListFiles,
    &workbook::Workbook,
    &layouts::LayoutFiles,
    &buying::BuyingListFiles,
    &settings::SettingsFiles,
    &order::OrderFiles,
    &dxf::FlatParts,
    &glb::Models,
    &job::JobFile,
];

/// The files of a set, or what could not be made: a set is whole, or there is none.
/// No kind of file waits for another.
pub fn files(set: &Finished<'_>) -> (Vec<File>, Vec<Problem>) {
    written(set, &|_| true)
}

/// The lists of a set alone, which need no sheets.
pub fn list_files(set: &Finished<'_>) -> (Vec<File>, Vec<Problem>) {
    written(set, &|writer| writer.code() == LISTS)
}

/// The code of every writer of lists.
const LISTS: &str = "lists";

fn written(set: &Finished<'_>, wanted: &dyn Fn(&dyn Writer) -> bool) -> (Vec<File>, Vec<Problem>) {
    let write = |writer: &&dyn Writer| {
        writer.files(set).map_err(|why| {
            Problem::error(writer.code(), format!("{} could not be made: {why}", writer.makes()))
        })
    };
    let chosen: Vec<&dyn Writer> = WRITERS.into_iter().filter(|writer| wanted(*writer)).collect();
    let written: Vec<Result<Vec<File>, Problem>> = chosen.par_iter().with_max_len(1).map(write).collect();
    all_or_none(written)
}

/// All files of a set, or none and what went wrong with each kind: half a set in a
/// folder is soon taken for the whole.
fn all_or_none(written: impl IntoIterator<Item = Result<Vec<File>, Problem>>) -> (Vec<File>, Vec<Problem>) {
    let (mut files, mut problems) = (Vec::new(), Vec::new());
    for kind in written {
        match kind {
            Ok(made) => files.extend(made),
            Err(problem) => problems.push(problem),
        }
    }
    if !problems.is_empty() {
        files.clear();
    }
    (files, problems)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_is_whole_or_has_no_files() {
        let made = |name: &str| Ok(vec![File { name: name.into(), bytes: Vec::new() }]);
        let (files, problems) = all_or_none([made(".pdf"), made("-01.svg")]);
        assert_eq!((files.len(), problems.len()), (2, 0));
        // The labels fail when all before them is made, and the lists after them.
        let failed = |code| Err(Problem::error(code, "it could not be made"));
        let (files, problems) = all_or_none([made(".pdf"), failed("pdf"), made("-01.svg"), failed("lists")]);
        assert_eq!(files, []);
        assert_eq!(problems.iter().map(|problem| problem.code).collect::<Vec<_>>(), ["pdf", "lists"]);
    }
}
