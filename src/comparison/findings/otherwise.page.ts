import { formatArea, formatMoney, formatNumber } from '../../quantities/formatting.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { cropMeasures } from '../totals/crop-measures.ts'
import { type MeasureKey, type MeasureRules, measureChoices, measureKeys, measuresOf } from '../totals/measures.ts'
import { methodTotals, sumOfSeasons } from '../totals/method-totals.ts'
import { type By, regrouped } from '../totals/regrouped.ts'

interface OtherwiseCell {
  readonly figure: string | null
  readonly limit: string | null
}

interface Asked {
  readonly by: By | 'crop'
  readonly rules: MeasureRules
  readonly locale: string
  readonly currency: string
}

/** Measures counted by the rules that were chosen, by method, garden, bed or crop; the choices themselves stand beside them. */
export function otherwisePage(
  record: TrialRecord,
  seasonIds: readonly string[],
  { by, rules, locale, currency }: Asked,
) {
  const choices = (Object.keys(measureChoices) as (keyof MeasureRules)[])
    .filter((rule) => rule !== 'establishing' || someEstablishing(record))
    .map((rule) => ({ rule, chosen: rules[rule], values: [...measureChoices[rule]] }))
  const written = (key: MeasureKey, value: number | null) =>
    value === null ? null : inUnit(key, value, locale, currency)
  if (by === 'crop')
    return { by, choices, keys: [], rows: [], crops: cropTables(record, seasonIds, rules, { locale, currency }) }
  const groups = regrouped(record, by)
  const sums = sumOfSeasons(seasonIds.map((id) => methodTotals(groups, id)))
  return {
    ...{ by, choices, keys: [...measureKeys], crops: [] },
    rows: groups.methods.flatMap((one) => {
      const totals = sums.get(one.id)
      if (!totals) return []
      const measures = measuresOf(totals, rules)
      const cells = measureKeys.map((key): OtherwiseCell => {
        const { value, limit } = measures[key]
        return { figure: written(key, value), limit }
      })
      return [{ id: one.id, name: one.name, cells }]
    }),
  }
}

/** How establishing counts is a choice only where some work or input of it is written down. */
const someEstablishing = (record: TrialRecord) =>
  record.labour.some((one) => one.phase === 'establishing') ||
  record.spreadings.some((one) => one.phase === 'establishing')

function inUnit(key: MeasureKey, value: number, locale: string, currency: string): string {
  if (key === 'costPerKg' || key === 'costPerArea') return formatMoney(value, locale, currency)
  if (key === 'lostArea') return `${formatNumber(100 * value, locale, 0)} %`
  return formatNumber(value, locale, 2)
}

interface Writing {
  readonly locale: string
  readonly currency: string
}

/** Crop by crop under each method: hours and costs only where they were written for its plantings. */
function cropTables(
  record: TrialRecord,
  seasonIds: readonly string[],
  rules: MeasureRules,
  { locale, currency }: Writing,
) {
  const sums = sumOfSeasons(seasonIds.map((id) => methodTotals(record, id)))
  const open = new Set([...sums].filter(([, own]) => own.weightsClosed < own.weeks).map(([id]) => id))
  return record.methods.flatMap((method) => {
    const rows = cropMeasures(record, seasonIds, method.id, rules)
    if (rows.length === 0) return []
    return [
      {
        method: method.name,
        rows: rows.map(({ crop, plantedAreaCm2, grams, minutes, costMinor, standing }) => ({
          crop,
          soFar: standing > 0 || open.has(method.id),
          area: formatArea(plantedAreaCm2, locale),
          kgPerM2: formatNumber((10 * grams) / plantedAreaCm2, locale, 2),
          hoursPerKg: minutes === null || grams === 0 ? null : formatNumber(((minutes / grams) * 1000) / 60, locale, 2),
          costPerKg:
            costMinor === null || grams === 0 ? null : formatMoney((costMinor / grams) * 1000, locale, currency),
        })),
      },
    ]
  })
}
