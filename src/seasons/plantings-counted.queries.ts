import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { crops, cultivars, plantings } from './seasons.table.ts'

/**
 * The plantings of a group as far as figures rest on them, in the order of their ids: of ten years a third of what
 * `plantingsOf` reads.
 */
export const plantingsCounted = (tx: Tx, groupId: string) =>
  tx
    .select({
      id: plantings.id,
      seasonId: plantings.seasonId,
      bedId: plantings.bedId,
      crop: crops.name,
      cultivar: cultivars.name,
      regrows: crops.regrows,
      how: plantings.how,
      purpose: plantings.purpose,
      areaCm2: plantings.areaCm2,
      plants: plantings.plants,
      interplanted: plantings.interplanted,
      matchedSetId: plantings.matchedSetId,
      raisedInBedId: plantings.raisedInBedId,
      sownOn: plantings.sownOn,
      plantedOn: plantings.plantedOn,
      clearedOn: plantings.clearedOn,
      standsOverSeasons: plantings.standsOverSeasons,
      establishingSeasons: plantings.establishingSeasons,
    })
    .from(plantings)
    .innerJoin(cultivars, and(eq(cultivars.groupId, groupId), eq(cultivars.id, plantings.cultivarId)))
    .innerJoin(crops, and(eq(crops.groupId, groupId), eq(crops.id, cultivars.cropId)))
    .where(and(eq(plantings.groupId, groupId), isNull(plantings.removedAt)))
    .orderBy(asc(plantings.id))

export type PlantingCounted = Awaited<ReturnType<typeof plantingsCounted>>[number]
