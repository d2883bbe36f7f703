/** What holds of a day that is written down in a week. Answers are codes; the words for them stand in the catalogue. */
export interface DayOfWork {
  readonly day: string
  readonly daysOfWeek: readonly string[]
  readonly today: string
}

export function dayRefused({ day, daysOfWeek, today }: DayOfWork): 'notInWeek' | 'ahead' | undefined {
  if (!daysOfWeek.includes(day)) return 'notInWeek'
  return day > today ? 'ahead' : undefined
}

interface Standing {
  readonly sownOn: string | null
  readonly plantedOn: string | null
  readonly clearedOn: string | null
}

export function standingRefused(planting: Standing, day: string): 'beforeSown' | 'afterCleared' | undefined {
  if (day < (planting.sownOn ?? planting.plantedOn ?? day)) return 'beforeSown'
  return planting.clearedOn !== null && day > planting.clearedOn ? 'afterCleared' : undefined
}

export function seasonOfDay<T extends { startsOn: string; endsOn: string }>(seasons: readonly T[], day: string) {
  return seasons.find((season) => season.startsOn <= day && day <= season.endsOn)
}

/**
 * Grams of one crop from a square metre in one day above which the service asks, once, whether the unit is right. From
 * memory: above the usual top of a whole crop cycle of heavy vegetables.
 */
const muchPerM2 = 15_000

export const isMuch = (grams: number, areaCm2: number) => grams * 10_000 > muchPerM2 * areaCm2
