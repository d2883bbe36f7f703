import { asShown, numberIn } from '../lookups/unsaid.ts'
import { formatKilograms, formatMoney } from '../quantities/formatting.ts'

export interface CropRow {
  readonly id: string
  readonly name: string
  readonly family: string | null
  readonly askAboveGPerM2: number | null
  readonly priceMinorPerKg: number | null
  readonly touchesSoil: number | null
  readonly weighedAs: string | null
  readonly countsWhenPicked: number
  readonly source: string | null
}

interface Telling {
  /** Crops of which anything was ever planted. */
  readonly planted: ReadonlySet<string>
  readonly locale: string
  readonly currency: string
}

/** What was planted comes first, all others behind a fold; what all sources begin with is said once. */
export function cropsPage(crops: readonly CropRow[], { planted, locale, currency }: Telling) {
  const shared = commonStart(crops.flatMap((crop) => crop.source ?? []))
  const rows = crops.map((crop) => ({
    id: crop.id,
    name: crop.name,
    family: asShown(crop.family),
    touchesSoil: crop.touchesSoil,
    weighedAs: crop.weighedAs,
    countsWhenPicked: crop.countsWhenPicked === 1,
    askAbove: crop.askAboveGPerM2 === null ? '' : formatKilograms(crop.askAboveGPerM2, locale),
    price: crop.priceMinorPerKg === null ? '' : formatMoney(crop.priceMinorPerKg, locale, currency),
    source: asShown(crop.source).slice(crop.source?.startsWith(shared) ? shared.length : 0),
  }))
  const first = rows.filter((row) => planted.has(row.id))
  return {
    first: first.length > 0 ? first : rows,
    others: first.length > 0 ? rows.filter((row) => !planted.has(row.id)) : [],
    sharedSource: shared.endsWith(', ') ? shared.slice(0, -2) : shared,
  }
}

/** What most of them begin with, up to their last comma: one source with a number each. Blank where they share none. */
function commonStart(sources: readonly string[]): string {
  const starts = sources.map((source) => source.slice(0, source.lastIndexOf(', ') + 2)).filter((start) => start !== ' ')
  const times = new Map<string, number>()
  for (const start of starts) times.set(start, numberIn(times, start) + 1)
  const [most = ['', 0]] = [...times].sort(([, a], [, b]) => b - a)
  return most[1] > 1 ? most[0] : ''
}
