import { and, asc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { weatherDays } from './notes.table.ts'
import type { WeatherDay } from './weather-sums.ts'

const rowsAtOnce = 500

/** Every day that stands, of every station, oldest first. */
export const weatherOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(weatherDays)
    .where(and(eq(weatherDays.groupId, groupId), isNull(weatherDays.removedAt)))
    .orderBy(asc(weatherDays.day), asc(weatherDays.id))

export type WeatherRow = Awaited<ReturnType<typeof weatherOf>>[number]

/** One station's days, by day. */
export async function daysOfStation(tx: Tx, groupId: string, station: string): Promise<Map<string, WeatherDay>> {
  const rows = await weatherOf(tx, groupId)
  return new Map(rows.filter((row) => row.station === station).map((row) => [row.day, row]))
}

export async function saveWeather(tx: Tx, author: Author, station: string, days: readonly WeatherDay[]): Promise<void> {
  for (let from = 0; from < days.length; from += rowsAtOnce) {
    const rows = days.slice(from, from + rowsAtOnce).map((day) => ({ ...author, ...day, id: newId(), station }))
    await tx.insert(weatherDays).values(rows).onConflictDoNothing()
  }
}
