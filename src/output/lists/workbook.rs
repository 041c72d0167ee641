//! The lists in one workbook for a spreadsheet.

use super::{buying, cutting_list, settings, xlsx};
use crate::output::file::File;
use crate::output::writer::{Finished, Writer};

/// Writes `-lists.xlsx`.
pub(in crate::output) struct Workbook;

impl Writer for Workbook {
    fn code(&self) -> &'static str {
        "lists"
    }

    fn makes(&self) -> &'static str {
        "the lists"
    }

    fn files(&self, set: &Finished<'_>) -> Result<Vec<File>, String> {
        let lists = set.lists;
        let mut sheets = vec![
            xlsx::Sheet { name: "Job", rows: job(set) },
            xlsx::Sheet { name: "Cutting list", rows: cutting_list::rows(&lists.list, set.words) },
        ];
        if !lists.list.needs.is_empty() {
            sheets
                .push(xlsx::Sheet { name: "Fittings", rows: cutting_list::fittings(&lists.list, set.words) });
        }
        if !lists.buying.lines.is_empty() {
            sheets.push(xlsx::Sheet { name: "Buying list", rows: buying::rows(&lists.buying, set.words) });
        }
        if !lists.settings.set_ups.is_empty() {
            sheets.push(xlsx::Sheet { name: "Settings", rows: settings::rows(&lists.settings, set.words) });
        }
        let bytes = xlsx::write(&set.head.title, &sheets)?;
        Ok(vec![File { name: "-lists.xlsx".into(), bytes }])
    }
}

/// What the lists are of, and how they are to be read.
fn job(set: &Finished<'_>) -> Vec<Vec<String>> {
    let head = set.head;
    let known = [
        ("job", Some(&head.title)),
        ("number", head.number.as_ref()),
        ("shop", head.owner.as_ref()),
        ("client", head.client.as_ref()),
        ("place", head.place.as_ref()),
        ("drawn by", head.drawn_by.as_ref()),
        ("revision", head.revision.as_ref()),
        ("status", head.status.as_ref()),
    ];
    let grainless: Vec<&str> = set
        .lists
        .layouts
        .sheets
        .iter()
        .filter(|cutting| !cutting.grained)
        .map(|cutting| cutting.name.as_str())
        .collect();
    let mut rows = vec![["what", "is"].map(String::from).to_vec()];
    let told = known.into_iter().filter_map(|(what, is)| Some(vec![what.to_owned(), is?.clone()]));
    rows.extend(told);
    rows.extend(set.words.how_to_read(&grainless).map(|(what, is)| vec![what.to_owned(), is]));
    rows
}
