//! Purchase list by supplier, with totals per currency.

use crate::build::{Build, Part};
use crate::units::Seconds;
use serde::Serialize;
use std::collections::BTreeMap;

/// What to buy.
#[derive(Clone, Debug, Serialize)]
pub struct Purchase {
    /// By supplier; components without one come last.
    pub suppliers: Vec<Supplier>,
    /// Components of which the spec says nothing that a purchaser could use.
    pub open: Vec<PurchaseRow>,
    /// Totals.
    pub totals: Vec<Total>,
    /// Components the spec gives no price for.
    pub without_price: usize,
}

/// What to buy from one supplier.
#[derive(Clone, Debug, Serialize)]
pub struct Supplier {
    /// Its name, "" where the spec gives none.
    pub name: String,
    /// Some row has a part number.
    pub parts: bool,
    /// Some row has a lead time.
    pub lead_times: bool,
    /// What.
    pub rows: Vec<PurchaseRow>,
}

/// A component to buy.
#[derive(Clone, Debug, Serialize)]
pub struct PurchaseRow {
    /// Part number.
    pub part: String,
    /// Name.
    pub name: String,
    /// Id.
    pub id: String,
    /// How many.
    pub quantity: i64,
    /// Lead time.
    pub lead_time: String,
    /// Price of one.
    pub price: String,
    /// Price of all of the row.
    pub sum: String,
    /// Currency, price of one, price of all.
    #[serde(skip)]
    pub money: Option<(String, f64, f64)>,
    /// Lead time.
    #[serde(skip)]
    pub lead: Option<Seconds>,
}

/// Total in one currency.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Total {
    /// ISO 4217 code.
    pub currency: String,
    /// Amount with two decimals.
    pub amount: String,
    /// Components in it.
    pub components: usize,
}

/// What to buy.
#[must_use]
pub fn purchase(build: &Build<'_>) -> Purchase {
    let mut suppliers: BTreeMap<(bool, &str), Vec<PurchaseRow>> = BTreeMap::new();
    let mut prices = Vec::new();
    let mut without_price = 0;
    let mut open = Vec::new();
    for part in build.parts.values().filter(|p| p.kind.bought && p.is_worked_on() && !p.common.from_customer.is_set()) {
        let supplier = part.common.supplier.or_empty();
        let price = price(part);
        without_price += usize::from(price.is_none());
        prices.extend(price.map(|(currency, each)| (currency, each * part.times())));
        let row = row(build, part, price);
        if supplier.is_empty() && [&row.part, &row.lead_time, &row.price].iter().all(|t| t.is_empty()) {
            open.push(row);
        } else {
            suppliers.entry((supplier.is_empty(), supplier)).or_default().push(row);
        }
    }
    let supplier = |((_, name), rows): ((bool, &str), Vec<PurchaseRow>)| Supplier {
        name: name.to_owned(),
        parts: rows.iter().any(|r| !r.part.is_empty()),
        lead_times: rows.iter().any(|r| !r.lead_time.is_empty()),
        rows,
    };
    Purchase { suppliers: suppliers.into_iter().map(supplier).collect(), open, totals: totals(prices), without_price }
}

fn price<'p>(part: &'p Part<'_>) -> Option<(&'p str, f64)> {
    part.common.price.as_ref().map(|price| (price.currency.as_str(), price.amount))
}

fn row(build: &Build<'_>, part: &Part<'_>, price: Option<(&str, f64)>) -> PurchaseRow {
    let money = |(currency, amount): (&str, f64)| format!("{currency} {amount:.2}");
    let sum = price.map(|(c, each)| (c, each * part.times()));
    PurchaseRow {
        part: part.common.part.or_empty().to_owned(),
        name: part.name.clone(),
        id: part.id.clone(),
        quantity: part.count,
        lead_time: part.common.lead_time.show(build.prints()).unwrap_or_default(),
        price: price.map_or_else(String::new, money),
        sum: sum.map_or_else(String::new, money),
        money: price.zip(sum).map(|((currency, each), (_, all))| (currency.to_owned(), each, all)),
        lead: part.common.lead_time.get(),
    }
}

/// Sums per currency, currencies in alphabetical order. Currencies are never added to each other.
fn totals<'p>(prices: impl IntoIterator<Item = (&'p str, f64)>) -> Vec<Total> {
    let mut sums: BTreeMap<&str, (f64, usize)> = BTreeMap::new();
    for (currency, amount) in prices {
        let sum = sums.entry(currency).or_default();
        sum.0 += amount;
        sum.1 += 1;
    }
    let total = |(currency, (amount, components)): (&str, (f64, usize))| Total {
        currency: currency.to_owned(),
        amount: format!("{amount:.2}"),
        components,
    };
    sums.into_iter().map(total).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn currencies_are_summed_apart() {
        let got = totals([("USD", 240.0), ("EUR", 10.5), ("USD", 0.25)]);
        let plain: Vec<_> = got.iter().map(|t| (t.currency.as_str(), t.amount.as_str(), t.components)).collect();
        assert_eq!(plain, [("EUR", "10.50", 1), ("USD", "240.25", 2)]);
        assert!(totals([]).is_empty());
    }
}
