import { asShown } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { standsIn } from '../seasons/seasons-stood.ts'
import { catalogue } from '../words/catalogue.ts'
import type { NotePlace } from './ground.ts'
import { standsOn } from './plant-stands.ts'

const words = catalogue.notes

interface PlantingThere {
  readonly id: string
  readonly bedId: string
  readonly seasonId: string
  readonly crop: string
  readonly cultivar: string
  readonly areaCm2: number
  readonly how: string
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
  readonly clearedOn: IsoDate | null
  readonly interplanted: number
  readonly standsOverSeasons: number
  readonly establishingSeasons: number | null
}

interface Around {
  readonly places: readonly NotePlace[]
  readonly plantings: readonly PlantingThere[]
}

interface Counted {
  /** Empty where the planting says it. */
  readonly place: string
  readonly plantingId: string | null
  readonly what: string
  readonly countedOn: IsoDate
}

type CountedAt =
  | {
      readonly kind: 'answer'
      readonly gardenId: string
      readonly bedId: string | null
      readonly plantingId: string | null
    }
  | { readonly kind: 'refused'; readonly errors: Record<string, string> }

/**
 * Where a count belongs: the planting that is named, in its bed; or the place. Plants standing are always of one
 * planting: the only one that stands in the bed on that day, or the one that is named.
 */
export function countedAt({ place, plantingId, what, countedOn }: Counted, { places, plantings }: Around): CountedAt {
  const where = places.find((one) => one.value === place)
  if (!where && (place !== '' || plantingId === null)) return wrongAt('place', catalogue.fields.notChosen)
  if (plantingId === null) {
    if (what !== 'plants standing') return answerOf(where, null)
    const there = plantings.filter((one) => one.bedId === where?.bedId && standsOn(one, countedOn))
    if (there.length !== 1) return wrongAt('plantingId', there.length === 0 ? words.ofWhich : words.ofWhichOf(there))
    return answerOf(where, there[0]?.id ?? null)
  }
  const planting = plantings.find((one) => one.id === plantingId)
  const bed = places.find((one) => one.bedId === planting?.bedId)
  if (!planting || !bed) return wrongAt('plantingId', catalogue.fields.notChosen)
  const elsewhere = where && (where.gardenId !== bed.gardenId || (where.bedId !== null && where.bedId !== bed.bedId))
  if (elsewhere) return wrongAt('plantingId', words.standsElsewhere(bed.garden, bed.bed))
  if (countedOn < asShown(planting.sownOn ?? planting.plantedOn)) return wrongAt('countedOn', words.countedBeforeSown)
  return answerOf(bed, planting.id)
}

const wrongAt = (field: string, sentence: string): CountedAt => ({ kind: 'refused', errors: { [field]: sentence } })

const answerOf = (where: NotePlace | undefined, plantingId: string | null): CountedAt =>
  where
    ? { kind: 'answer', gardenId: where.gardenId, bedId: where.bedId, plantingId }
    : wrongAt('place', catalogue.fields.notChosen)

/** The plantings that a count can name: those of the latest season first, in the order of the walk. */
export function plantingChoices(
  { places, plantings }: Around,
  seasons: readonly { id: string; name: string; startsOn: IsoDate }[],
  locale: string,
) {
  const byDay = [...seasons].sort((a, b) => (a.startsOn < b.startsOn ? -1 : 1))
  const latestFirst = byDay.toReversed()
  return latestFirst.flatMap((season) =>
    places.flatMap((bed) =>
      plantings
        .filter((one) => bed.bedId !== null && one.bedId === bed.bedId && standsIn(one, season.id, byDay))
        .map((one) => {
          const day = one.sownOn ?? one.plantedOn
          const name = `${one.crop}, ${one.cultivar}`
          return { value: one.id, label: words.plantingOf(season.name, bed, name, day && formatDay(day, locale)) }
        }),
    ),
  )
}
