//! Currencies by their codes.

use rust_decimal::{Decimal, RoundingStrategy};

/// A currency: ISO 4217, from memory; signs are common practice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Currency {
    /// Its code: `GBP`.
    pub code: &'static str,
    /// Its name in a sentence.
    pub name: &'static str,
    /// The sign before an amount.
    pub sign: &'static str,
    /// Decimals of an amount.
    pub digits: u32,
}

const fn currency(code: &'static str, name: &'static str, sign: &'static str, digits: u32) -> Currency {
    Currency { code, name, sign, digits }
}

/// The currencies known. A sign that several share is told apart by its code.
pub const CURRENCIES: [Currency; 22] = [
    currency("AUD", "Australian dollars", "A$", 2),
    currency("BRL", "Brazilian reals", "R$", 2),
    currency("CAD", "Canadian dollars", "C$", 2),
    currency("CHF", "Swiss francs", "CHF ", 2),
    currency("CZK", "Czech crowns", "CZK ", 2),
    currency("DKK", "Danish crowns", "DKK ", 2),
    currency("EUR", "euros", "€", 2),
    currency("GBP", "pounds sterling", "£", 2),
    currency("HUF", "Hungarian forints", "HUF ", 2),
    currency("ILS", "Israeli shekels", "ILS ", 2),
    currency("INR", "Indian rupees", "INR ", 2),
    currency("ISK", "Icelandic crowns", "ISK ", 0),
    currency("JPY", "yen", "¥", 0),
    currency("KRW", "South Korean won", "KRW ", 0),
    currency("KWD", "Kuwaiti dinars", "KWD ", 3),
    currency("MXN", "Mexican pesos", "MX$", 2),
    currency("NOK", "Norwegian crowns", "NOK ", 2),
    currency("NZD", "New Zealand dollars", "NZ$", 2),
    currency("PLN", "Polish zloty", "PLN ", 2),
    currency("SEK", "Swedish crowns", "SEK ", 2),
    currency("USD", "US dollars", "$", 2),
    currency("ZAR", "South African rand", "R ", 2),
];

/// Digits between two commas.
const GROUP: usize = 3;

impl Currency {
    /// The currency of a code, in any case.
    pub fn named(code: &str) -> Option<&'static Self> {
        CURRENCIES.iter().find(|known| known.code.eq_ignore_ascii_case(code.trim()))
    }

    /// The least amount that can be paid: a penny.
    pub fn least(&self) -> Decimal {
        Decimal::new(1, self.digits)
    }

    /// An amount rounded to what can be paid, halves away from nought (common practice
    /// of invoices, no source).
    pub fn round(&self, amount: Decimal) -> Decimal {
        let mut rounded = amount.round_dp_with_strategy(self.digits, RoundingStrategy::MidpointAwayFromZero);
        rounded.rescale(self.digits);
        rounded
    }

    /// An amount as a column shows it: `1,234.50`.
    pub fn figure(&self, amount: Decimal) -> String {
        let text = self.round(amount.abs()).to_string();
        let (whole, rest) = text.split_at(text.find('.').unwrap_or(text.len()));
        let mut grouped = String::new();
        for (at, digit) in whole.chars().enumerate() {
            if at > 0 && (whole.len() - at).is_multiple_of(GROUP) {
                grouped.push(',');
            }
            grouped.push(digit);
        }
        let sign =
            if self.round(amount).is_sign_negative() && !self.round(amount).is_zero() { "−" } else { "" };
        format!("{sign}{grouped}{rest}")
    }

    /// An amount in a sentence: `£1,234.50`.
    pub fn show(&self, amount: Decimal) -> String {
        let figure = self.figure(amount);
        match figure.strip_prefix('−') {
            Some(rest) => format!("−{}{rest}", self.sign),
            None => format!("{}{figure}", self.sign),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn amount(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn amounts_read_as_on_an_invoice() {
        let pounds = Currency::named("gbp").unwrap();
        assert_eq!(pounds.show(amount("1234567.5")), "£1,234,567.50");
        assert_eq!(pounds.show(amount("-0.004")), "£0.00");
        assert_eq!(pounds.show(amount("-12")), "−£12.00");
        assert_eq!(pounds.show(amount("999.995")), "£1,000.00");
        assert_eq!(Currency::named("JPY").unwrap().show(amount("1234.5")), "¥1,235");
        assert_eq!(Currency::named("KWD").unwrap().show(amount("0.0005")), "KWD 0.001");
        assert_eq!(Currency::named("XYZ"), None);
    }

    /// 2.675 has no exact float: as one it would be rounded to 2.67.
    #[test]
    fn halves_are_rounded_as_they_are_written() {
        let euros = Currency::named("EUR").unwrap();
        assert_eq!(euros.round(amount("2.675")), amount("2.68"));
        assert_eq!(euros.round(amount("-2.675")), amount("-2.68"));
        assert_eq!(euros.round(amount("1.005")), amount("1.01"));
    }
}
