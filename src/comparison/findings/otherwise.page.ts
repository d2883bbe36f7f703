import { keysOf } from '../../lookups/keys.ts'
import { formatArea } from '../../quantities/formatting.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { cropMeasures } from '../totals/crop-measures.ts'
import { figureWritten, type InLocale } from '../totals/figure-written.page.ts'
import { measureKeys, measureOf, measures, units } from '../totals/figures.ts'
import { type MeasureRules, measureChoices } from '../totals/measures.ts'
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

/**
 * Measures counted by the rules that were chosen, by method, garden, bed or crop; the choices themselves stand beside
 * them.
 */
export function otherwisePage(
  record: TrialRecord,
  seasonIds: readonly string[],
  { by, rules, locale, currency }: Asked,
) {
  const choices = keysOf(measureChoices)
    .filter((rule) => rule !== 'establishing' || someEstablishing(record))
    .map((rule) => ({ rule, chosen: rules[rule], values: [...measureChoices[rule]] }))
  if (by === 'crop')
    return { by, choices, keys: [], rows: [], crops: cropTables(record, seasonIds, rules, { locale, currency }) }
  const groups = regrouped(record, by)
  const sums = sumOfSeasons(seasonIds.map((id) => methodTotals(groups, id)))
  return {
    by,
    choices,
    keys: [...measureKeys],
    crops: [],
    rows: groups.methods.flatMap((one) => {
      const totals = sums.get(one.id)
      if (!totals) return []
      const cells = measureKeys.map((key): OtherwiseCell => {
        const { value, limit } = measureOf(totals, key, rules)
        const figure = value === null ? null : figureWritten(value, measures[key].unit, { locale, currency })
        return { figure, limit }
      })
      return [{ id: one.id, name: one.name, cells }]
    }),
  }
}

/** How establishing counts is a choice only where some work or input of it is written down. */
const someEstablishing = (record: TrialRecord) =>
  record.labour.some((one) => one.phase === 'establishing') ||
  record.spreadings.some((one) => one.phase === 'establishing' || one.phase === null)

/** Crop by crop under each method: hours and costs only where they were written for its plantings. */
function cropTables(record: TrialRecord, seasonIds: readonly string[], rules: MeasureRules, given: InLocale) {
  const written = (unit: 'kg/m2' | 'h/kg' | 'minor/kg', over: number, under: number) =>
    figureWritten(units[unit].quotient(over, under), unit, given)
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
          area: formatArea(plantedAreaCm2, given.locale),
          kgPerM2: written('kg/m2', grams, plantedAreaCm2),
          hoursPerKg: minutes === null || grams === 0 ? null : written('h/kg', minutes, grams),
          costPerKg: costMinor === null || grams === 0 ? null : written('minor/kg', costMinor, grams),
        })),
      },
    ]
  })
}
