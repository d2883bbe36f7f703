import { dayIn } from '../quantities/dates.ts'
import { formatDay, formatNumber } from '../quantities/formatting.ts'

interface Invited {
  readonly id: string
  readonly role: string
  readonly places: number
  readonly taken: number
  readonly expiresAt: Date
  readonly by: string | null
}

/** An invitation ends as its last day does, which is the day of the moment before. */
export function invitationLines(
  invited: readonly Invited[],
  { locale, timeZone }: { locale: string; timeZone: string },
) {
  return invited.map(({ id, role, places, taken, expiresAt, by }) => ({
    id,
    role,
    by,
    ends: formatDay(dayIn(timeZone, new Date(expiresAt.getTime() - 1)), locale),
    taken: formatNumber(taken, locale, 0),
    places: formatNumber(places, locale, 0),
  }))
}
