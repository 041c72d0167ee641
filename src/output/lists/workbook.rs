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
        let mut sheets = vec![xlsx::Sheet { name: "Cutting list", rows: cutting_list::rows(&lists.list) }];
        if !lists.list.needs.is_empty() {
            sheets
                .push(xlsx::Sheet { name: "Fittings", rows: cutting_list::fittings(&lists.list, set.words) });
        }
        if !lists.buying.lines.is_empty() {
            sheets.push(xlsx::Sheet { name: "Buying list", rows: buying::rows(&lists.buying, set.words) });
        }
        if !lists.settings.set_ups.is_empty() {
            sheets.push(xlsx::Sheet { name: "Settings", rows: settings::rows(&lists.settings) });
        }
        let bytes = xlsx::write(&set.head.title, &sheets)?;
        Ok(vec![File { name: "-lists.xlsx".into(), bytes }])
    }
}
