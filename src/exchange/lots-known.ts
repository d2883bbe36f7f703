import type { Known } from '../diary/known.ts'
import type { Lot } from '../diary/state.ts'
import type { IsoDate } from '../quantities/dates.ts'

/** The weighings that a line of a file may name as the same lot, by planting and day; lines add to them. */
export class LotsKnown {
  private readonly lots: Map<string, Lot>
  private readonly onDay = new Map<string, string[]>()

  constructor(standing: ReadonlyMap<string, Lot>) {
    this.lots = new Map(standing)
    for (const [id, lot] of standing) this.place(id, lot)
  }

  add(id: string, lot: Lot): void {
    this.lots.set(id, lot)
    this.place(id, lot)
  }

  /** Their ids. */
  of(plantingId: string, day: IsoDate): readonly string[] {
    return this.onDay.get(`${plantingId} ${day}`) ?? []
  }

  /** What is known, with these lots: the rule of a weighing looks the one that is named up in them. */
  within = (known: Known): Known => ({ ...known, lots: this.lots })

  private place(id: string, { plantingId, harvestedOn }: Lot): void {
    if (plantingId === null) return
    const key = `${plantingId} ${harvestedOn}`
    this.onDay.set(key, [...(this.onDay.get(key) ?? []), id])
  }
}
