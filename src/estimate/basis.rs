//! What an estimate is made from.

use crate::assembly::Order;
use crate::cutting::{BuyLine, Group, ShopLists};
use crate::joinery::WorkedJob;
use crate::model::Job;

/// What an estimate is made from.
#[derive(Debug)]
pub struct Basis<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its worked parts.
    pub worked: &'a WorkedJob,
    /// Its lists.
    pub lists: &'a ShopLists,
    /// Its assembly orders.
    pub orders: &'a [Order],
    /// What is to buy.
    pub goods: Vec<Goods<'a>>,
}

/// A line of the buying list as an estimate sees it.
#[derive(Clone, Debug)]
pub struct Goods<'a> {
    /// The line.
    pub line: &'a BuyLine,
    /// Its name, with its size: `Ash plywood 2440 × 1220 × 18`.
    pub name: String,
}

/// The lines to buy, each with a name by `name`.
pub fn goods_of<'a>(lines: &'a [BuyLine], name: &dyn Fn(&BuyLine) -> String) -> Vec<Goods<'a>> {
    let to_buy = lines.iter().filter(|line| line.group != Group::FromTheShop);
    to_buy.map(|line| Goods { line, name: name(line) }).collect()
}
