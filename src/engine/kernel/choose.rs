//! Choices: the value of the first condition that holds; what was not chosen does not count, nor do its faults.

use super::{Chunk, Data, Faults, Maker, at, narrowed};
use crate::program::node::{Reg, Scaled};
use crate::program::scalar::brought;
use crate::quantity::Number;

pub(super) fn choose<'a>(
    (arms, otherwise): (&[(Reg, Scaled)], &Scaled),
    reg: impl Fn(Reg) -> &'a Chunk,
    maker: Maker,
) -> Chunk {
    let conditions: Vec<&Chunk> = arms.iter().map(|(c, _)| reg(*c)).collect();
    let scaled: Vec<&Scaled> = arms.iter().map(|(_, v)| v).chain([otherwise]).collect();
    let values: Vec<&Chunk> = scaled.iter().map(|s| reg(s.reg)).collect();
    let operands: Vec<&Chunk> = conditions.iter().chain(&values).copied().collect();
    let len = maker.len_of(&operands);
    let no_faults = operands.iter().all(|c| c.faults.is_none());
    let mut faults = (!no_faults).then(|| vec![None; len].into_boxed_slice());
    let mut chosen = vec![arms.len(); len];
    for (row, slot) in chosen.iter_mut().enumerate() {
        for (i, condition) in conditions.iter().enumerate() {
            let fault = condition.fault(row);
            if fault.is_some() {
                *slot = i;
                if let Some(faults) = &mut faults {
                    faults[row] = fault;
                }
                break;
            }
            if condition.yes_no(row).unwrap_or(false) {
                *slot = i;
                break;
            }
        }
        if let Some(faults) = &mut faults
            && faults[row].is_none()
        {
            faults[row] = values[*slot].fault(row);
        }
    }
    let mut faults = faults.filter(|f| f.iter().any(Option::is_some));
    let data = match &values[0].data {
        Data::Text(_) => {
            Data::Text(chosen.iter().enumerate().map(|(row, i)| values[*i].text(row).unwrap_or(0)).collect())
        }
        Data::YesNo(_) => {
            Data::YesNo(chosen.iter().enumerate().map(|(row, i)| values[*i].yes_no(row).unwrap_or(false)).collect())
        }
        _ => fast_numbers(&chosen, &values, &scaled)
            .unwrap_or_else(|| numbers(&chosen, &values, &scaled, &mut faults, maker)),
    };
    Chunk { data, faults }
}

fn numbers(chosen: &[usize], values: &[&Chunk], scaled: &[&Scaled], faults: &mut Faults, maker: Maker) -> Data {
    let mut out = Vec::with_capacity(chosen.len());
    for (row, i) in chosen.iter().enumerate() {
        if faults.as_ref().is_some_and(|f| f[row].is_some()) {
            out.push(Number::ZERO);
            continue;
        }
        out.push(brought(at(values[*i], row), scaled[*i].by).unwrap_or_else(|error| {
            maker.mark_error(faults, row, chosen.len(), error);
            Number::ZERO
        }));
    }
    narrowed(out)
}

fn fast_numbers(chosen: &[usize], values: &[&Chunk], scaled: &[&Scaled]) -> Option<Data> {
    let mut columns = Vec::with_capacity(values.len());
    let mut scale = 0;
    for (chunk, s) in values.iter().zip(scaled) {
        match &chunk.data {
            Data::Fixed { values, scale: own, over: None } => {
                scale = scale.max(*own);
                columns.push((values.as_slice(), *own, i64::try_from(s.by).ok()?));
            }
            _ => return None,
        }
    }
    let factors: Option<Vec<i64>> =
        columns.iter().map(|(_, own, by)| 10i64.checked_pow(scale - own)?.checked_mul(*by)).collect();
    let factors = factors?;
    let pick = |(row, i): (usize, &usize)| {
        let column = columns[*i].0;
        column[if column.len() == 1 { 0 } else { row }].checked_mul(factors[*i])
    };
    let values = chosen.iter().enumerate().map(pick).collect::<Option<Vec<i64>>>()?;
    Some(Data::Fixed { values, scale, over: None })
}
