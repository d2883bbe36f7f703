import { formatArea, formatDay, formatKilograms, formatMoney, formatNumber } from '../../quantities/formatting.ts'
import { cropName } from '../record/crop-name.ts'
import { figureWritten, type InLocale } from '../totals/figure-written.page.ts'
import { type SumUnit, sumUnit } from '../totals/figures.ts'
import type { FigureLine, LineKey } from './rows-figures.ts'
import type { RowsScope } from './rows-scope.ts'
import { gardenAndBed, gardenName, seasonName } from './rows-tables.ts'

interface Asked extends InLocale {
  readonly scope: RowsScope
  readonly seasonIds: readonly string[]
}

export interface LineShown {
  readonly key: LineKey
  readonly top: string
  readonly over: string
  readonly figure: string | null
  /** "3 of 5": a count of a count has no figure of its own. */
  readonly count: { readonly some: number; readonly all: number } | null
  readonly limit: string | null
}

export function lineShown(line: FigureLine, { locale, currency }: InLocale): LineShown {
  const { key, numerator, denominator, value, limit, unit } = line
  const sum = (amount: number, of: SumUnit) => sumWritten(amount, of, { locale, currency })
  return {
    key,
    limit,
    top: sum(numerator, line.in[0]),
    over: sum(denominator, line.in[1]),
    figure: value === null ? null : figureWritten(value, unit, { locale, currency }),
    count: unit === 'of' ? { some: numerator, all: denominator } : null,
  }
}

function sumWritten(amount: number, unit: SumUnit, { locale, currency }: InLocale): string {
  const { written } = sumUnit(unit)
  if (written === 'kilograms') return formatKilograms(amount, locale)
  if (written === 'money') return formatMoney(amount, locale, currency)
  if (written === 'area') return formatArea(amount, locale)
  if (written === 'lost area') return formatArea(amount / 1000, locale)
  const { to, symbol } = written
  return to === 1 ? formatNumber(amount, locale, 0) : `${formatNumber(amount / to, locale, 2)} ${symbol}`
}

export type RowsWriting = ReturnType<typeof writing>

/** How the cells of a row are written: names of places, sums as they are kept, days. */
export function writing({ scope: { record }, seasonIds, locale, currency }: Asked) {
  const bed = (bedId: string) => gardenAndBed(record, bedId).join(', ')
  const planting = (id: string | null | undefined) => record.plantings.find((one) => one.id === id)
  return {
    record,
    bed,
    /** Said only where rows of several seasons stand together. */
    season: (id: string) => (seasonIds.length > 1 ? seasonName(record, id) : ''),
    /** The season that something was done in, where it is not the one that it counts in. */
    earlier: (doneIn: string, countedIn: string) => (doneIn === countedIn ? '' : seasonName(record, doneIn)),
    place: (one: { plantingId?: string | null; gardenId?: string | null; bedIds: readonly string[] }) => {
      const own = planting(one.plantingId)
      if (own) return `${cropName(own)} · ${bed(own.bedId)}`
      return one.gardenId ? gardenName(record, one.gardenId) : one.bedIds.map(bed).join('; ')
    },
    kg: (grams: number) => formatKilograms(grams, locale),
    area: (cm2: number) => exactArea(cm2, locale),
    money: (minor: number) => formatMoney(minor, locale, currency),
    whole: (amount: number) => formatNumber(amount, locale, 0),
    hours: (minutes: number) => `${formatNumber(minutes / 60, locale, 2)} h`,
    percent: (permille: number) => `${formatNumber(permille / 10, locale, permille % 10 ? 1 : 0)} %`,
    day: (date: string) => formatDay(date, locale),
  }
}

/** With as many decimals as it has, so that a column adds up as it is printed. */
export const exactArea = (cm2: number, locale: string) =>
  `${formatNumber(cm2 / 10_000, locale, cm2 % 100 ? 4 : cm2 % 1000 ? 2 : 1)} m²`
