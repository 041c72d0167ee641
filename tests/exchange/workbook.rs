//! The workbook, read as the package of XML that it is (ISO/IEC 29500): its sheets, how
//! they are printed, and what stands on the first.

use std::io::{Cursor, Read};

use rodwright::{Choices, set_out};
use zip::ZipArchive;

use crate::support::scripts::{request, scripts_in};

fn part(book: &[u8], name: &str) -> String {
    let mut text = String::new();
    ZipArchive::new(Cursor::new(book)).unwrap().by_name(name).unwrap().read_to_string(&mut text).unwrap();
    text
}

#[test]
fn it_says_what_it_is_of_and_prints_as_it_should() {
    let path = scripts_in("scripts").into_iter().find(|path| path.ends_with("notice_frame.rhai")).unwrap();
    let set = set_out(&request("frame", std::fs::read_to_string(path).unwrap()), &Choices::default());
    let book = &set.files.iter().find(|file| file.name == "-lists.xlsx").unwrap().bytes;
    let contents = part(book, "xl/workbook.xml");
    let document = roxmltree::Document::parse(&contents).unwrap();
    let sheets = document.descendants().filter(|node| node.tag_name().name() == "sheet");
    let names: Vec<&str> = sheets.map(|sheet| sheet.attribute("name").unwrap()).collect();
    assert_eq!(names, ["Job", "Cutting list", "Fittings", "Buying list", "Settings"]);
    let strings = part(book, "xl/sharedStrings.xml");
    // Its plywood has no grain.
    for said in ["Saltmarsh reading room", "runs along the length; parts of Birch plywood may be turned"] {
        assert!(strings.contains(said), "{said}");
    }
    for number in 1..=names.len() {
        let sheet = part(book, &format!("xl/worksheets/sheet{number}.xml"));
        let page = roxmltree::Document::parse(&sheet).unwrap();
        let setup = page.descendants().find(|node| node.tag_name().name() == "pageSetup").unwrap();
        assert_eq!(setup.attribute("orientation"), Some("landscape"));
        assert_eq!((setup.attribute("paperSize"), setup.attribute("fitToHeight")), (Some("9"), Some("0")));
        let header = page.descendants().find(|node| node.tag_name().name() == "oddHeader").unwrap();
        assert!(header.text().unwrap().ends_with(names[number - 1]));
    }
}
