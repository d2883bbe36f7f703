import type { SpreadingRow } from '../inputs/load.ts'
import { type Place, placeOfRow } from '../inputs/place.ts'
import { daysBetween, type IsoDate } from '../quantities/dates.ts'
import { laidKinds } from './compost-start.ts'

/** Crops whose roots fork or split in ground that was dressed too late or too rich. */
const rootCrops = ['carrot', 'parsnip', 'beetroot', 'radish', 'turnip', 'swede', 'celeriac']

interface Sown {
  readonly id: string
  readonly seasonId: string
  readonly bedId: string
  readonly crop: string
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
}

interface TimingRows {
  readonly spreadings: readonly SpreadingRow[]
  readonly places: readonly Place[]
  readonly plantings: readonly Sown[]
  readonly stands: readonly { readonly plantingId: string; readonly standing: number; readonly sown: number }[]
  readonly weighed: readonly { readonly id: string; readonly marketableG: number; readonly unmarketableG: number }[]
}

export interface DaysToSowing {
  readonly gardenId: string
  readonly garden: string
  readonly season: string
  readonly input: string
  readonly spreadOn: IsoDate
  /** To the first crop that came into that ground on that day or later; null where none did. */
  readonly days: number | null
  /** Of what was sown or planted there after it: plants counted, and what of the roots was not marketable. */
  readonly stands: { readonly standing: number; readonly sown: number } | null
  readonly roots: { readonly grams: number; readonly badGrams: number } | null
}

/**
 * Each season in which a garden was dressed, by the day on which it was dressed first: how long until something came
 * into it, and what came of the stands and roots that did. Crops that stood there before are none of it.
 */
export function daysToSowing({ spreadings, places, plantings, stands, weighed }: TimingRows): DaysToSowing[] {
  const firsts = new Map<string, { spread: SpreadingRow; place: Place }>()
  for (const spread of spreadings) {
    const place = laidKinds.includes(spread.input.kind) ? placeOfRow(places, spread) : null
    const key = `${spread.seasonId} ${place?.gardenId}`
    const before = firsts.get(key)
    if (place && (before === undefined || spread.appliedOn < before.spread.appliedOn))
      firsts.set(key, { spread, place })
  }
  return [...firsts.values()].map(({ spread, place }) => {
    const after = plantings.flatMap((one) => {
      const day = one.plantedOn ?? one.sownOn
      const isHere = one.seasonId === spread.seasonId && place.bedIds.includes(one.bedId)
      return isHere && day !== null && day >= spread.appliedOn ? [{ ...one, day }] : []
    })
    const first = after.map(({ day }) => day).sort()[0]
    const ids = new Set(after.map(({ id }) => id))
    const counted = stands.filter((one) => ids.has(one.plantingId))
    const roots = new Set(after.filter(({ crop }) => rootCrops.includes(crop)).map(({ id }) => id))
    const lifted = weighed.filter((one) => roots.has(one.id) && one.marketableG + one.unmarketableG > 0)
    const sum = (grams: readonly number[]) => grams.reduce((total, one) => total + one, 0)
    return {
      gardenId: place.gardenId,
      garden: place.gardenName,
      season: spread.seasonName,
      input: spread.input.name,
      spreadOn: spread.appliedOn,
      days: first === undefined ? null : daysBetween(spread.appliedOn, first),
      stands:
        counted.length === 0
          ? null
          : { standing: sum(counted.map((one) => one.standing)), sown: sum(counted.map((one) => one.sown)) },
      roots:
        lifted.length === 0
          ? null
          : {
              grams: sum(lifted.map((one) => one.marketableG + one.unmarketableG)),
              badGrams: sum(lifted.map((one) => one.unmarketableG)),
            },
    }
  })
}
