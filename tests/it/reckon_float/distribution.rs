//! Quantiles.

use asfound::domain::reckon::distribution::{chi_squared_quantile, normal_quantile, t_below, t_quantile};

use super::{close, number, rows};

#[test]
fn jcgm_100_table_g2_t_quantiles() {
    for row in rows("t_quantiles") {
        let (dof, percent) = (number(&row["dof"]), number(&row["p_percent"]));
        let got = t_quantile((percent / 100.0).midpoint(1.0), dof);
        close(&format!("t, {dof} dof, {percent} %"), got, number(&row["t"]), (1e-12, 0.0));
    }
}

#[test]
fn standard_normal_quantiles() {
    for row in rows("normal_quantiles") {
        let p = number(&row["p_one_sided"]);
        close(&format!("z at {p}"), normal_quantile(p), number(&row["z"]), (1e-13, 1e-15));
    }
}

// 95 % points of chi-squared as every printed table has them (from memory), and the exact value for two degrees of freedom
#[test]
fn chi_squared_quantiles() {
    for (dof, want) in [(1.0, 3.841), (2.0, 5.991), (3.0, 7.815), (4.0, 9.488), (10.0, 18.307), (30.0, 43.773)] {
        close(&format!("{dof} dof"), chi_squared_quantile(0.95, dof), want, (0.0, 5e-4));
    }
    close("2 dof", chi_squared_quantile(0.95, 2.0), -2.0 * 0.05_f64.ln(), (1e-13, 0.0));
    // with one degree it is the square of a normal deviate
    close("1 dof", chi_squared_quantile(0.95, 1.0), normal_quantile(0.975).powi(2), (1e-12, 0.0));
}

// t with one and two degrees of freedom has closed forms
#[test]
fn t_in_closed_form_and_across_the_change_of_method() {
    for p in [0.4, 0.1, 0.05, 1e-3, 1e-6] {
        close("1 dof", t_quantile(p, 1.0), -1.0 / (std::f64::consts::PI * p).tan(), (1e-12, 0.0));
        let two = (2.0 * p - 1.0) / (2.0 * p * (1.0 - p)).sqrt();
        close("2 dof", t_quantile(p, 2.0), two, (1e-12, 0.0));
    }
    for t in [-5.0, -1.7, 0.3, 2.5] {
        close("10 000 dof", t_below(t, 9_999.999_999), t_below(t, 10_000.0), (1e-10, 0.0));
    }
    // a far tail keeps its digits: 2 dof, P = (1 - t / sqrt(2 + t^2)) / 2
    close(
        "tail",
        t_below(-1e5, 2.0),
        1.0 / (2.0 * (1e10 + 2.0) * (1.0 / (1.0 + 2e-10_f64).sqrt()).midpoint(1.0)),
        (1e-9, 0.0),
    );
}

/// The far tail has no published table here: the quantile must give its share back, and the mirror image its opposite.
#[test]
fn the_far_tail_of_t_is_found_there_and_back() {
    for dof in [1.0, 2.5, 7.0, 40.0, 900.0] {
        for p in [1e-7, 1e-9, 1e-12, 1e-30, 1e-100] {
            let t = t_quantile(p, dof);
            assert!((t_below(t, dof) / p - 1.0).abs() < 1e-9, "t {t}, {dof} degrees of freedom, share {p}");
        }
    }
}
