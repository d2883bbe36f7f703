import type { IsoDate } from '../quantities/dates.ts'

/** One weighing with a container: what the scale showed, and what was left of it. */
export interface InContainer {
  readonly id: string
  readonly version: number
  readonly harvestedOn: IsoDate
  readonly marketableG: number
  readonly unmarketableG: number
  readonly grossG: number
  /** Its season is closed, or the weights of its week are, in a garden that it touches. */
  readonly closed: boolean
}

export interface Reckoned<Row> {
  readonly row: Row
  readonly marketableG: number
  readonly unmarketableG: number
}

interface ReckonedAnew<Row> {
  readonly changed: readonly Reckoned<Row>[]
  /** In closed weeks and seasons: they stay as they are. */
  readonly left: readonly Row[]
  /** The scale showed less than the container is now said to weigh. */
  readonly tooLight: readonly Row[]
}

/**
 * What another empty weight makes of the weighings with that container, from a day on (null: all of them). A weighing
 * keeps what the scale showed, in whole grams, so that its net can be reckoned again; the container is read off the
 * weight that it was taken off when it was written: the marketable one, or the other where only that was weighed.
 */
export function reckonedAnew<Row extends InContainer>(
  weighings: readonly Row[],
  { tareG, since }: { readonly tareG: number; readonly since: string | null },
): ReckonedAnew<Row> {
  const meant = weighings.filter((one) => (since === null || one.harvestedOn >= since) && tareThen(one) !== tareG)
  const open = meant.filter((one) => !one.closed)
  return {
    changed: open.filter((one) => one.grossG >= tareG).map((row) => netOf(row, tareG)),
    left: meant.filter((one) => one.closed),
    tooLight: open.filter((one) => one.grossG < tareG),
  }
}

type Weighed = Pick<InContainer, 'marketableG' | 'unmarketableG' | 'grossG'>

/** Only what cannot be sold was weighed. */
const badOnly = ({ marketableG, unmarketableG }: Weighed) => marketableG === 0 && unmarketableG > 0

/** The empty weight that was taken off when it was written, in grams. */
export const tareThen = (one: Weighed): number => one.grossG - (badOnly(one) ? one.unmarketableG : one.marketableG)

function netOf<Row extends InContainer>(row: Row, tareG: number): Reckoned<Row> {
  const net = row.grossG - tareG
  return badOnly(row)
    ? { row, marketableG: 0, unmarketableG: net }
    : { row, marketableG: net, unmarketableG: row.unmarketableG }
}
