import { textIn } from '../../lookups/unsaid.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodsOfBeds } from './method-totals.ts'

/** What figures are summed by. */
export type By = 'method' | 'garden' | 'bed'

/**
 * The same record with each garden, or each bed, in the place of a method, so that every measure of a method is there
 * for it too. Only ground that lies under some method in a season counts in that season.
 */
export function regrouped(record: TrialRecord, by: By): TrialRecord {
  if (by === 'method') return record
  const garden = new Map(record.gardens.map((one) => [one.id, one.name]))
  const beds = record.beds.map(({ id, name, gardenId }) => ({
    id,
    name: `${textIn(garden, gardenId)}, ${name ?? id}`,
  }))
  const assignments = record.seasons.flatMap((season) => {
    const laid = methodsOfBeds(record, season.id)
    return record.beds
      .filter((bed) => laid.has(bed.id))
      .map((bed) => ({
        seasonId: season.id,
        gardenId: bed.gardenId,
        bedId: bed.id,
        methodId: by === 'garden' ? bed.gardenId : bed.id,
      }))
  })
  const methods = by === 'garden' ? record.gardens.map(({ id, name }) => ({ id, name })) : beds
  return { ...record, methods, assignments }
}

interface Part {
  readonly gardenId?: string | undefined
  readonly bedId?: string | undefined
}

/** The same record with ground under a method only in one garden, or one bed: what is divided is divided as before. */
export function onlyIn(record: TrialRecord, { gardenId, bedId }: Part): TrialRecord {
  if (gardenId === undefined && bedId === undefined) return record
  const beds = record.beds.filter(
    (bed) => (gardenId === undefined || bed.gardenId === gardenId) && (bedId === undefined || bed.id === bedId),
  )
  const assignments = record.seasons.flatMap((season) => {
    const laid = methodsOfBeds(record, season.id)
    return beds.flatMap((bed) => {
      const methodId = laid.get(bed.id)
      return methodId === undefined ? [] : [{ seasonId: season.id, gardenId: bed.gardenId, bedId: bed.id, methodId }]
    })
  })
  return { ...record, assignments }
}
