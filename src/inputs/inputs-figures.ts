import type { DeliveryRow, SpreadingRow } from './load.ts'
import type { LoadMeasure } from './measures.ts'
import { type Place, placeOfRow } from './place.ts'
import { seasonSums, spreadingFigures } from './season-sums.ts'

interface Rows {
  readonly deliveries: readonly DeliveryRow[]
  readonly spreadings: readonly SpreadingRow[]
  readonly places: readonly Place[]
  readonly measures: readonly LoadMeasure[]
  readonly seasons: readonly { id: string; name: string }[]
  readonly carried: ReadonlyMap<string, number>
}

/** The inputs in figures: whole small units as they are stored, grams of the element, null where it is not known. */
export function inputFigures(rows: Rows, currency: string) {
  return {
    schemaVersion: 1,
    currency,
    deliveries: rows.deliveries.map((one) => ({
      ...one,
      personMinutes: rows.carried.get(one.id) ?? null,
    })),
    spreadings: rows.spreadings.map((one) => {
      const place = placeOfRow(rows.places, one)
      return {
        id: one.id,
        input: one.input.name,
        unit: one.input.unit,
        appliedOn: one.appliedOn,
        quantityThousandths: one.quantityThousandths,
        depthMm: one.depthMm,
        garden: place?.gardenName ?? null,
        bed: place?.bedName ?? null,
        planting: place?.plantingName ?? null,
        season: one.seasonName,
        phase: one.phase,
        ...spreadingFigures(one, rows.measures),
      }
    }),
    seasons: seasonSums(rows.seasons, rows.spreadings, rows.measures),
  }
}

type InputFigures = ReturnType<typeof inputFigures>
const tables = ['deliveries', 'spreadings', 'seasons'] as const

/** One table with its headings on the first line; undefined where there is none of that name. */
export function inputTable(figures: InputFigures, name: string): (string | number | null)[][] | undefined {
  const table = tables.find((one) => one === name)
  if (!table) return undefined
  const rows: readonly Record<string, string | number | boolean | null>[] = figures[table]
  const columns = Object.keys(rows[0] ?? {})
  return [columns, ...rows.map((row) => columns.map((column) => asCell(row[column])))]
}

const asCell = (value: string | number | boolean | null | undefined) =>
  typeof value === 'boolean' ? Number(value) : (value ?? null)
