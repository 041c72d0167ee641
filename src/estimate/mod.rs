//! What a job costs and what is asked for it: rates, hours, materials, price.
//!
//! Comes in: the shop's rates, and the lists, set-ups and steps of a job. Goes out: an
//! [`Estimate`] whose every line is a printed quantity times a printed rate, so that
//! each column adds up as it is printed. Money is decimal throughout, never a float.

mod basis;
mod currency;
mod entry;
mod estimated;
mod goods;
mod hours;
mod minutes;
mod money;
mod price;
mod rates;
mod read;
mod starter;

pub use basis::{Basis, Goods, goods_of};
pub use currency::{CURRENCIES, Currency};
pub use estimated::{Estimate, estimate};
pub use goods::{GoodsLine, line_cost};
pub use hours::{HourLine, part_minutes};
pub use minutes::{MINUTES, MinuteRow};
pub use money::printed;
pub use price::{Price, StageSum};
pub use rates::{Overrule, Per, PriceOf, Profit, Rates, Rounding, Shop, Stage, Tax, Way};
pub use read::read;
pub use rust_decimal::Decimal;
pub use starter::starter;
