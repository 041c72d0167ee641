//! From quantities in floats to the decimals that are printed.

use rust_decimal::{Decimal, RoundingStrategy};

use crate::measure::number;

/// Per cent of one.
pub(super) const PER_CENT: Decimal = Decimal::ONE_HUNDRED;

/// A quantity as it is printed with at most `decimals` decimals. Money is worked out
/// from this and not from the float behind it: who checks the sheet with a calculator
/// then finds the same.
pub fn printed(amount: f64, decimals: usize) -> Decimal {
    number(amount, decimals).replace('−', "-").parse().unwrap_or_default()
}

/// A share of an amount, not rounded.
pub(super) fn share(amount: Decimal, per_cent: Decimal) -> Decimal {
    amount * per_cent / PER_CENT
}

/// A decimal without noughts at its end, as a column of quantities shows it.
pub(super) fn to_tenth(amount: Decimal) -> Decimal {
    amount.round_dp_with_strategy(1, RoundingStrategy::MidpointAwayFromZero)
}
