//! Forces, their moments and stresses in the unit of a job.

use super::show::number;
use super::unit::Unit;

/// Newtons to the pound force: the pound times standard gravity, both exact by definition
/// (NIST SP 811, app. B.8).
const POUND_FORCE: f64 = 4.448_221_615_260_5;
/// Newton metres to the pound force foot: the same times 0.3048.
const FOOT_POUND: f64 = POUND_FORCE * 0.3048;
/// `MPa` to the pound force per square inch: the same over 25.4 squared.
const PSI: f64 = POUND_FORCE / (25.4 * 25.4);

/// A force of `newtons`: `630 N`, in an inch job `142 lb`.
pub fn force(unit: Unit, newtons: f64) -> String {
    match unit {
        Unit::Mm => format!("{} N", number(newtons, 0)),
        Unit::Inch => format!("{} lb", number(newtons / POUND_FORCE, 0)),
    }
}

/// A moment of `newton_metres` with so many decimals: `28 N m`, in an inch job `21 ft lb`.
pub fn moment(unit: Unit, newton_metres: f64, decimals: usize) -> String {
    match unit {
        Unit::Mm => format!("{} N m", number(newton_metres, decimals)),
        Unit::Inch => format!("{} ft lb", number(newton_metres / FOOT_POUND, decimals)),
    }
}

/// A stress of `mega_pascals`: `160 MPa`, in an inch job `23206 psi`.
pub fn stress(unit: Unit, mega_pascals: f64) -> String {
    match unit {
        Unit::Mm => format!("{} MPa", number(mega_pascals, 0)),
        Unit::Inch => format!("{} psi", number(mega_pascals / PSI, 0)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Factors of NIST SP 811, app. B.8: 1 lbf = 4.448222 N, 1 lbf ft = 1.355818 N m,
    /// 1 psi = 6.894757 kPa.
    #[test]
    fn an_inch_job_reads_pounds() {
        assert_eq!(force(Unit::Inch, 630.0), "142 lb");
        assert_eq!(moment(Unit::Inch, 28.0, 0), "21 ft lb");
        assert_eq!(stress(Unit::Inch, 160.0), "23206 psi");
        assert_eq!(force(Unit::Mm, 630.0), "630 N");
        assert_eq!([FOOT_POUND, PSI * 1000.0].map(|x| number(x, 4)), ["1.3558", "6.8948"]);
    }
}
