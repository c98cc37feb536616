//! Rows that ask for the same thing become one line.

use super::lumber::{self, Wanted};
use super::{Group, Number, Purchase, Takeoff, Use};
use crate::papers::row::Row;
use crate::papers::unknown::Unknown;
use crate::units::Dim;
use crate::values::{Evaluator, Lack, Quantity, Value};
use smol_str::SmolStr;

/// What one row asks for.
struct Ask {
    group: SmolStr,
    item: SmolStr,
    count: u64,
    /// Length or amount of each.
    each: Option<Quantity>,
    cut_from: Option<Vec<Quantity>>,
    saw_cut: Quantity,
    spare: f64,
    pack: Option<(Quantity, SmolStr)>,
    price: Option<Quantity>,
    of: SmolStr,
}

/// Rows of one item.
struct Asked<'r> {
    asks: Vec<Ask>,
    rows: Vec<&'r Row<'r>>,
}

pub(super) fn gather(evaluator: &Evaluator, rows: &[Row]) -> Takeoff {
    let mut unknown: Vec<Unknown> = Vec::new();
    let mut items: Vec<Asked> = Vec::new();
    for row in rows {
        let ask = match asked(row) {
            Ok(Some(ask)) => ask,
            Ok(None) => continue,
            Err(lack) => {
                unknown.push(row.unknown(&lack));
                continue;
            }
        };
        let same = |known: &&mut Asked| known.asks.first().is_some_and(|first| first.group == ask.group && first.item == ask.item);
        match items.iter_mut().find(same) {
            Some(known) => {
                known.asks.push(ask);
                known.rows.push(row);
            }
            None => items.push(Asked { asks: vec![ask], rows: vec![row] }),
        }
    }
    let mut groups: Vec<Group> = Vec::new();
    for asked in items {
        let (name, line) = match line(evaluator, &asked) {
            Ok(line) => line,
            Err(lack) => {
                unknown.extend(asked.rows.first().map(|row| row.unknown(&lack)));
                continue;
            }
        };
        match groups.iter_mut().find(|group| group.name == name) {
            Some(group) => group.lines.push(line),
            None => groups.push(Group { name, lines: vec![line] }),
        }
    }
    Takeoff { groups, unknown: Unknown::gather(unknown) }
}

/// What a row asks for; `None` where it asks for nothing.
fn asked(row: &Row) -> Result<Option<Ask>, Lack> {
    if let Some(lack) = &row.lack {
        return Err(lack.clone());
    }
    let (Some(group), Some(item)) = (row.text("group")?, row.text("item")?) else { return Ok(None) };
    let count = row.quantity("count")?.map_or(Some(1), |count| whole(count.si)).ok_or(Lack::Faulty)?;
    let length = row.quantity("length")?;
    let each = if length.is_some() { length } else { row.quantity("amount")? };
    if count == 0 || each.as_ref().is_some_and(|each| each.si <= 0.0) {
        return Ok(None);
    }
    let cut_from = match row.value("cut_from") {
        None => None,
        Some(value) => Some(quantities(value?)?),
    };
    let pack = match (row.quantity("pack")?, row.text("packed_in")?) {
        (Some(pack), Some(packed_in)) if pack.si > 0.0 => Some((pack, packed_in)),
        _ => None,
    };
    Ok(Some(Ask {
        group,
        item,
        count,
        each,
        cut_from,
        saw_cut: row.quantity("saw_cut")?.unwrap_or(Quantity::new(0.0, Dim::LENGTH)),
        spare: row.quantity("spare")?.map_or(0.0, |spare| spare.si),
        pack,
        // A price may be missing: that is no hole in the list.
        price: row.quantity("price").ok().flatten(),
        of: row.names().into_iter().next().unwrap_or_default(),
    }))
}

/// A number of pieces, rounded up to whole ones; what is a hair more than whole is whole.
fn whole(number: f64) -> Option<u64> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
    (0.0..1e9).contains(&number).then(|| (number - 1e-6).ceil().max(0.0) as u64)
}

fn quantities(value: Value) -> Result<Vec<Quantity>, Lack> {
    match value {
        Value::Quantity(quantity) => Ok(vec![quantity]),
        Value::List(items) => {
            items.iter().map(|item| if let Value::Quantity(one) = item { Ok(one.clone()) } else { Err(Lack::Faulty) }).collect()
        }
        _ => Err(Lack::Faulty),
    }
}

fn line(evaluator: &Evaluator, asked: &Asked) -> Result<(SmolStr, Purchase), Lack> {
    let asks = &asked.asks;
    let first = asks.first().ok_or(Lack::Faulty)?;
    let measure = |quantity: Quantity| evaluator.measure(quantity);
    let total: f64 = asks.iter().map(|ask| ask.count as f64 * ask.each.as_ref().map_or(1.0, |each| each.si)).sum();
    let with_spare = |si: f64| si * (1.0 + first.spare);
    let like_first = |si: f64| {
        first.each.as_ref().map_or(Quantity::new(si, Dim::NUMBER), |each| Quantity { si, dim: each.dim, unit: each.unit.clone() })
    };
    let mut cutting = None;
    // What is paid for, in pieces, packages or SI units.
    let (number, paid) = if let Some(stock) = &first.cut_from {
        let wanted: Vec<Wanted> =
            asks.iter().filter_map(|ask| Some(Wanted { of: ask.of.clone(), length: ask.each.clone()?, count: ask.count })).collect();
        let cut = lumber::cut(&wanted, stock, &first.saw_cut, &measure).ok_or(Lack::Faulty)?;
        let (lengths, bought) = (cut.lengths(), cut.bought.quantity.si);
        cutting = Some(cut);
        (Number::Lengths(lengths), bought)
    } else if first.each.is_none() {
        let count = whole(with_spare(total)).ok_or(Lack::Faulty)?;
        (Number::Pieces(count), count as f64)
    } else if let Some((pack, packed_in)) = &first.pack {
        let amount = with_spare(total);
        let count = whole(amount / pack.si).ok_or(Lack::Faulty)?;
        let number =
            Number::Packs { count, pack: measure(pack.clone()), packed_in: packed_in.clone(), amount: measure(like_first(amount)) };
        (number, count as f64)
    } else {
        let amount = with_spare(total);
        (Number::Amount(measure(like_first(amount))), amount)
    };
    let price = first.price.clone();
    let mut line = Purchase {
        item: first.item.clone(),
        number,
        uses: Vec::new(),
        cutting,
        cost: price.as_ref().map(|price| price.si * paid),
        price: price.map(measure),
        notes: Vec::new(),
        sources: Vec::new(),
        cautions: Vec::new(),
    };
    for ask in asks {
        let each = ask.each.clone().map(measure);
        match line.uses.iter_mut().find(|known| known.of == ask.of && known.each == each) {
            Some(known) => known.count += ask.count,
            None => line.uses.push(Use { of: ask.of.clone(), count: ask.count, each }),
        }
    }
    for row in &asked.rows {
        for (name, texts) in [("note", &mut line.notes), ("source", &mut line.sources), ("caution", &mut line.cautions)] {
            if let Some(text) = row.text(name)?
                && !texts.contains(&text)
            {
                texts.push(text);
            }
        }
    }
    Ok((first.group.clone(), line))
}
