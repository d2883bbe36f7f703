import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { type Author, bedsOf, gardensOf, sitesOf } from '../gardens/gardens.queries.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { samplePlaces } from './places.ts'
import { soilTests } from './soil.table.ts'

/** The group's soil tests, oldest first. */
export const soilTestsOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(soilTests)
    .where(and(eq(soilTests.groupId, groupId), isNull(soilTests.removedAt)))
    .orderBy(asc(soilTests.sampledOn), asc(soilTests.id))

export type SoilTestRow = Awaited<ReturnType<typeof soilTestsOf>>[number]

export async function samplePlacesOf(tx: Tx, groupId: string) {
  const [sites, gardens, beds] = [await sitesOf(tx, groupId), await gardensOf(tx, groupId), await bedsOf(tx, groupId)]
  return samplePlaces({ sites, gardens, beds })
}

interface NewSoilTest {
  readonly id: string
  readonly siteId: string
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly sampledOn: IsoDate
  readonly laboratory: string
  readonly analyte: string
  readonly extractant: string | null
  readonly value: string
  readonly beyond: string | null
  readonly standardError: string | null
  readonly standardErrorOf: string | null
  readonly unit: string
  readonly depthMm: number | null
  readonly bands: { readonly lowUnder: string | null; readonly highFrom: string | null } | null
}

/** The values of one report; what was sent before stays as it was stored. */
export async function saveSoilTests(tx: Tx, author: Author, given: readonly NewSoilTest[]): Promise<void> {
  await tx
    .insert(soilTests)
    .values(given.map((one) => ({ ...author, ...one })))
    .onConflictDoNothing({ target: [soilTests.groupId, soilTests.id] })
}
