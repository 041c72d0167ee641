//! What a client is sent, read back from the file; and what `quote` says.

use std::ffi::OsString;
use std::fs;

use lopdf::{Document, Object};
use rodwright::cli::{Ended, Terminal, run};
use rodwright::drawing::{Choices, Paper, SheetKind};
use rodwright::estimate::{Decimal, Rates, read};
use rodwright::output::File;
use rodwright::quoting::{QuoteRequest, Quoted, quote, worked_out};
use rodwright::script::Request;

use crate::support::golden::golden;
use crate::support::scripts::request;

fn cabinet() -> Request {
    request("cabinet", fs::read_to_string("scripts/periodicals_cabinet.rhai").unwrap())
}

fn rates() -> Rates {
    read("scripts/rates.toml", &fs::read_to_string("scripts/rates.toml").unwrap()).0.unwrap()
}

/// The files of a quotation on A4 with its drawings and the shop's estimate.
fn quoted(count: u32, options: &[(String, Vec<(String, String)>)], paper: Paper) -> Quoted {
    let (request, rates) = (cabinet(), rates());
    quote(&QuoteRequest {
        request: &request,
        choices: &Choices { paper: Some(paper), date: Some("2026-11-27".into()), ..Choices::default() },
        rates: &rates,
        options,
        count,
        with: &[SheetKind::GeneralArrangement],
        inside: true,
        accept: &[],
    })
}

fn file<'a>(quoted: &'a Quoted, ending: &str) -> &'a File {
    quoted.files.iter().find(|file| file.name == ending).unwrap()
}

/// All that can be read in a PDF: the words of its pages, and every text among its
/// objects.
fn all_text(bytes: &[u8]) -> String {
    let document = Document::load_mem(bytes).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    let mut text = document.extract_text(&pages).unwrap();
    let mut objects: Vec<&Object> = document.objects.values().collect();
    while let Some(object) = objects.pop() {
        match object {
            Object::String(bytes, _) => text += &String::from_utf8_lossy(bytes).replace('\0', ""),
            Object::Array(list) => objects.extend(list),
            Object::Dictionary(dictionary) => objects.extend(dictionary.iter().map(|(_, value)| value)),
            Object::Stream(stream) => objects.extend(stream.dict.iter().map(|(_, value)| value)),
            _ => {}
        }
    }
    text
}

#[test]
fn the_client_reads_the_price_and_what_it_is_for() {
    let quoted = quoted(1, &[], Paper::A4);
    let text = all_text(&file(&quoted, "-quote.pdf").bytes);
    let price = worked_out(&cabinet(), &rates(), 1).0.unwrap().estimate.price;
    let pounds = rates().currency;
    for words in [
        "Marram Workshop",
        "Quotation",
        "Periodicals cabinet",
        "For Saltmarsh reading room",
        "Cabinet: 900 mm wide, 420 mm high, 300 mm deep",
        "Hard-wax oil, 2 coats",
        "VAT 20 %",
        "2026-12-27",
        "Signature",
        &pounds.figure(price.net),
        &pounds.show(price.total),
        &pounds.figure(price.stages[0].amount),
    ] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
}

/// Every figure of the shop's own estimate that the client does not pay, and its words,
/// stand in the one file and nowhere in the other: not in its pages, its metadata, its
/// bookmarks or links.
#[test]
fn no_cost_reaches_the_client() {
    let quoted = quoted(3, &[], Paper::A4);
    let (outside, inside) =
        (all_text(&file(&quoted, "-quote.pdf").bytes), all_text(&file(&quoted, "-inside.pdf").bytes));
    let estimate = worked_out(&cabinet(), &rates(), 3).0.unwrap().estimate;
    let (price, pounds) = (&estimate.price, rates().currency);
    let costs = [price.materials, price.labour, price.overhead, price.cost, price.profit, price.sundries];
    let lines =
        estimate.goods.iter().map(|line| line.cost).chain(estimate.hours.iter().map(|line| line.cost));
    // Small amounts may be sizes on the drawings too.
    let large = |cost: &Decimal| *cost > Decimal::from(100);
    let mut figures: Vec<String> =
        costs.into_iter().chain(lines.filter(large)).map(|c| pounds.figure(c)).collect();
    figures.extend(
        ["Overhead", "Markup", "Labour", "Sundries", "38.00", "an hour", "minutes", "not for the client"]
            .map(String::from),
    );
    assert!(figures.len() > 12);
    for figure in figures {
        assert!(inside.contains(&figure), "{figure:?} is not in the shop's file");
        assert!(!outside.contains(&figure), "{figure:?} is in the client's file");
    }
    let document = Document::load_mem(&file(&quoted, "-quote.pdf").bytes).unwrap();
    let links = |object: &Object| {
        object
            .as_dict()
            .is_ok_and(|d| d.has(b"URI") || d.has(b"A") || d.has(b"EmbeddedFiles") || d.has(b"EF"))
    };
    assert!(!document.objects.values().any(links));
}

#[test]
fn options_stand_side_by_side_with_what_sets_them_apart() {
    let option =
        |title: &str, name: &str, value: &str| (title.to_owned(), vec![(name.to_owned(), value.to_owned())]);
    let options = [option("Wider", "width", "1100"), option("Lower", "height", "360")];
    let quoted = quoted(1, &options, Paper::A3);
    assert_eq!(quoted.totals.len(), 3);
    let text = all_text(&file(&quoted, "-quote.pdf").bytes);
    for words in ["As drawn", "Wider: width 1100 mm", "Lower: height 360 mm"] {
        assert!(text.contains(words), "{words:?} in {text}");
    }
    let total =
        |at: usize| quoted.totals[at].1.trim_start_matches('£').replace(',', "").parse::<Decimal>().unwrap();
    assert!(total(1) > total(0) && total(0) > total(2));
}

/// A warning stands on the quotation until its code is accepted, and then nowhere.
#[test]
fn a_warning_is_to_be_settled_unless_it_is_accepted() {
    let loose = "panel(\"Tray\", ply, #{ x: [100, 200], y: [50, 150], z: [900, 918], grain: \"x\" });\n";
    let request = request("cabinet", cabinet().text + loose);
    let rates = rates();
    let read = |accept: &[String]| {
        let quoted = quote(&QuoteRequest {
            request: &request,
            choices: &Choices { paper: Some(Paper::A4), ..Choices::default() },
            rates: &rates,
            options: &[],
            count: 1,
            with: &[],
            inside: false,
            accept,
        });
        all_text(&file(&quoted, "-quote.pdf").bytes)
    };
    let (open, accepted) = (read(&[]), read(&["held-by-nothing".into()]));
    for words in ["To be settled before work begins", "Tray stands free"] {
        assert!(open.contains(words), "{words}: {open}");
        assert!(!accepted.contains(words), "{words}: {accepted}");
    }
}

#[test]
fn the_same_quotation_is_the_same_bytes() {
    let (one, two) = (quoted(2, &[], Paper::Letter), quoted(2, &[], Paper::Letter));
    assert_eq!(one.files, two.files);
}

/// A command line: what it answered and remarked.
fn said(line: &[&str]) -> (Ended, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().to_str().unwrap().to_owned();
    let words = ["rodwright", "quote"].iter().chain(line).map(|word| word.replace("OUT", &to));
    let ended = run(words.map(OsString::from), rodwright::words(), &mut Terminal::new(&mut out, &mut err));
    let text = String::from_utf8(out).unwrap() + String::from_utf8(err).unwrap().as_str();
    (ended, text.replace(&to, "OUT"))
}

#[test]
fn the_command_says_what_it_did_and_why_not() {
    let script = "scripts/periodicals_cabinet.rhai";
    let rates = ["--rates", "scripts/rates.toml", "--out", "OUT"];
    let with = |more: &[&str]| said(&[&[script], &rates[..], more].concat());
    let cases = [
        ("done", Ended::Done, with(&["--inside"])),
        ("without rates", Ended::Files, said(&[script, "--rates", "scripts/rate.toml"])),
        ("a script with an error", Ended::Problems, with(&["--set", "width=9000"])),
        ("an option with an error", Ended::Problems, with(&["--option", "Huge", "width=9000"])),
        ("an option that changes nothing", Ended::WrongUse, with(&["--option", "Plain", "Open"])),
        ("a value before its title", Ended::WrongUse, with(&["--option", "width=900", "Wide"])),
        ("a code that nothing says", Ended::Done, with(&["--accept", "sags"])),
    ];
    let texts: Vec<(&str, String)> = cases
        .into_iter()
        .map(|(name, wanted, (ended, text))| {
            assert_eq!(ended, wanted, "{name}: {text}");
            (name, text)
        })
        .collect();
    golden(file!(), &texts);
    let six: Vec<String> =
        (1..=6).flat_map(|n| ["--option".into(), format!("No {n}"), "width=901".into()]).collect();
    let (ended, text) = with(&six.iter().map(String::as_str).collect::<Vec<_>>());
    assert_eq!(ended, Ended::WrongUse);
    assert!(text.contains("7 things are offered with the first; 6 have room side by side"), "{text}");
    let (ended, text) = with(&["--with", "general,buying"]);
    assert_eq!(ended, Ended::WrongUse);
    assert!(text.contains("it can be `general`"), "{text}");
}

/// The sheets that a client is sent, with the ink of their text.
fn client_pages(script: &str, options: usize, paper: Paper) -> (usize, Vec<String>) {
    let request = request("job", fs::read_to_string(format!("scripts/{script}.rhai")).unwrap());
    let rates = rates();
    let option = |at: usize| (format!("Number {at}"), vec![("width".to_owned(), (900 + at).to_string())]);
    let quoted = quote(&QuoteRequest {
        request: &request,
        choices: &Choices { paper: Some(paper), ..Choices::default() },
        rates: &rates,
        options: &(0..options).map(option).collect::<Vec<_>>(),
        count: 2,
        with: &[],
        inside: false,
        accept: &[],
    });
    let document = Document::load_mem(&file(&quoted, "-quote.pdf").bytes).unwrap();
    let pages: Vec<u32> = document.get_pages().keys().copied().collect();
    (pages.len(), pages.iter().map(|page| document.extract_text(&[*page]).unwrap()).collect())
}

/// Pictures give way before a further page is begun, and a list that fits a column is not
/// torn: on A4 the wall of three pieces with all its words is one page, and of a cabinet
/// with five options what is in the price stands whole on one page.
#[test]
fn pages_are_not_begun_for_a_few_lines() {
    assert_eq!(client_pages("window_wall", 0, Paper::A4).0, 1);
    assert_eq!(client_pages("periodicals_cabinet", 2, Paper::A4).0, 1);
    let (pages, texts) = client_pages("periodicals_cabinet", 5, Paper::A4);
    assert!(pages <= 2);
    let with = |words: &str| texts.iter().position(|text| text.contains(words)).unwrap();
    assert_eq!(with("All work and materials named here"), with("One visit to measure"), "{texts:?}");
}
