import { keysOf } from '../lookups/keys.ts'
import { nth } from '../lookups/nth.ts'
import { linkOf } from '../lookups/unsaid.ts'
import { addDays, type IsoDate } from '../quantities/dates.ts'
import { weekOf, weeksBetween } from '../quantities/iso-week.ts'
import type { Chance } from '../statistics/chance-from.ts'
import { newBookkeeping } from './bookkeeping.ts'
import { movedDay } from './moved-years.ts'
import { emptyRows, type Planted, type Rows } from './rows.ts'
import * as written from './truth.ts'
import { weeksOfTask } from './weeks-of-task.ts'

type Truth = typeof written

type SeasonAt = number
type GardenAt = number

/** Rows and sums as they grow, with the draws that are made once: garden by season, crop by garden. */
export class Making {
  readonly rows: Rows = emptyRows()
  readonly books = newBookkeeping()
  readonly truth: Truth
  /** All seasons of the truth, the running one last. */
  readonly seasons: readonly Truth['seasons'][number][]
  chance: Chance
  private readonly years: number
  private count = 0
  private readonly cropByGarden: number[][]

  constructor(chance: Chance, truth: Truth) {
    this.chance = chance
    this.truth = truth
    this.years = Number(truth.running.startsOn.slice(0, 4)) - Number(written.running.startsOn.slice(0, 4))
    this.seasons = [...truth.seasons, truth.running as unknown as Truth['seasons'][number]]
    this.cropByGarden = truth.gardens.map(() => truth.crops.map(() => truth.spread.cropByGarden * chance.normal()))
  }

  /** Ids of the shape of UUID version 7, counted, so that their order is the order in which rows were made. */
  newId(): string {
    const at = (this.count++).toString(16).padStart(12, '0')
    return `018a0000-0000-7000-8000-${at}`
  }

  ground(): void {
    const { rows } = this
    const siteId = this.named('sites', 'Quern Hill')
    rows.sites.push({ id: siteId, name: 'Quern Hill', soil: 'Silt loam over clay', exposure: 'A windy coast' })
    for (const [i, method] of this.truth.methods.entries()) {
      const id = this.named('methods', String(i))
      rows.methods.push({ id, name: method.name, workingRules: method.rules, colourIndex: i, position: i })
    }
    for (const [i, garden] of this.truth.gardens.entries()) {
      const id = this.named('gardens', String(i))
      const about = { exposure: garden.exposure, groundBefore: garden.before }
      const compostDistanceMm = 1000 * nth(this.truth.metresFromHeap, i)
      const ground = { grossAreaCm2: this.truth.grossAreaCm2, compostDistanceMm }
      rows.gardens.push({ id, siteId, name: garden.name, ...ground, position: i, ...about })
      for (let bed = 0; bed < this.truth.bedsOfGarden; bed++) {
        const bedId = this.named('beds', `${i} ${bed}`)
        rows.beds.push({
          id: bedId,
          gardenId: id,
          name: `Bed ${bed + 1}`,
          areaCm2: this.truth.bedAreaCm2,
          position: bed,
        })
      }
    }
    for (const [i, crop] of this.truth.crops.entries()) {
      rows.cultivars.push({ id: this.named('cultivars', String(i)), crop: crop.crop, name: crop.cultivar })
    }
    const other = this.truth.onPurpose.otherCrops
    rows.cultivars.push({ id: this.named('cultivars', 'other'), crop: other.instead, name: other.cultivar })
  }

  season(at: SeasonAt): void {
    const season = nth(this.seasons, at)
    const seasonId = this.named('seasons', String(at))
    const { name, startsOn, endsOn } = season
    const closedAt = `${addDays(endsOn, 5)}T09:00:00Z`
    this.rows.seasons.push({ id: seasonId, name, startsOn, endsOn, closedAt })
    for (const garden of this.truth.gardens.keys()) {
      this.rows.methodAssignments.push({
        id: this.newId(),
        seasonId,
        gardenId: this.idOf('gardens', garden),
        methodId: this.idOf('methods', garden),
        phase: at === 0 ? 'establishing' : 'established',
        yearOfMethod: at + 1,
        how: 'choice',
      })
      this.books.ground(at, garden, this.truth.bedsOfGarden * this.truth.bedAreaCm2, this.truth.grossAreaCm2)
    }
    const planted = this.truth.crops.flatMap((_crop, crop) => this.plant(at, crop))
    const gardenBySeason = this.truth.gardens.map(() => this.truth.spread.gardenBySeason * this.chance.normal())
    const kilograms = this.truth.gardens.map(() => 0)
    for (const one of planted) kilograms[one.garden] = nth(kilograms, one.garden) + this.pick(one, gardenBySeason)
    for (const garden of this.truth.gardens.keys()) this.work(at, garden, nth(kilograms, garden))
    this.close(at)
  }

  /** One cultivar in every garden on one day, but where a bed is covered or the garden grew something else. */
  private plant(at: SeasonAt, crop: number): Planted[] {
    const season = nth(this.seasons, at)
    const about = nth(this.truth.crops, crop)
    const sownOn = addDays(season.startsOn, about.sown)
    const clearedOn = addDays(season.startsOn, Math.min(about.first + 50, 300))
    const setId = this.newId()
    const [seasonId, cultivarId] = [this.idOf('seasons', at), this.idOf('cultivars', crop)]
    const window = { windowFrom: sownOn, windowTo: sownOn }
    this.rows.matchedSets.push({ id: setId, seasonId, cultivarId, name: about.cultivar, ...window })
    return [...this.truth.gardens.keys()].flatMap((garden): Planted[] => {
      const bed = Math.floor(crop / 2)
      const { coveredBed, otherCrops } = this.truth.onPurpose
      if (at === coveredBed.season && garden === coveredBed.garden && bed === coveredBed.bed) return []
      const other =
        at === otherCrops.season && garden === otherCrops.garden && otherCrops.crops.some((one) => one === crop)
      const id = this.newId()
      this.rows.plantings.push({
        id,
        seasonId,
        bedId: this.named('beds', `${garden} ${bed}`),
        areaCm2: this.truth.bedAreaCm2 / 2,
        sownOn,
        clearedOn,
        cultivarId: other ? this.named('cultivars', 'other') : cultivarId,
        matchedSetId: other ? null : setId,
        purpose: 'harvest',
        how: 'direct',
        seedLot: `${about.cultivar} ${season.name}`,
      })
      this.books.planting(at, garden, this.truth.bedAreaCm2 / 2)
      return [{ id, crop, garden, season: at, sownOn, clearedOn, lostFrom: null }]
    })
  }

  /** Pickings of one planting, and what it lost; gives the kilograms that were carried in. */
  private pick(one: Planted, gardenBySeason: readonly number[]): number {
    const about = nth(this.truth.crops, one.crop)
    const season = nth(this.seasons, one.season)
    const lost = this.lose(one, season.startsOn)
    const log =
      nth(this.truth.methods, one.garden).effect +
      nth(this.truth.gardens, one.garden).effect +
      season.effect +
      nth(gardenBySeason, one.garden) +
      nth(nth(this.cropByGarden, one.garden), one.crop) +
      this.truth.spread.residual * this.chance.normal()
    const square = this.truth.bedAreaCm2 / 2 / 10_000
    const total = about.kg * square * Math.exp(log) * (1 - lost.share)
    let kilograms = 0
    for (let picking = 0; picking < about.pickings; picking++) {
      const day = addDays(season.startsOn, about.first + Math.round((picking * 45) / about.pickings))
      if (one.lostFrom !== null && day >= one.lostFrom) continue
      const grams = Math.round((total * 1000) / about.pickings / 10) * 10
      const bad = Math.round((grams * this.truth.unmarketableShare * (0.5 + this.chance.uniform())) / 10) * 10
      kilograms += this.weigh(one, day, grams - bad, bad)
    }
    return kilograms
  }

  private weigh(one: Planted, day: IsoDate, marketableG: number, unmarketableG: number): number {
    if (marketableG + unmarketableG <= 0) return 0
    this.rows.harvests.push({
      id: this.newId(),
      seasonId: this.idOf('seasons', one.season),
      plantingId: one.id,
      shareRule: null,
      harvestedOn: day,
      isoWeek: weekOf(day),
      marketableG,
      unmarketableG,
      unmarketableReason: unmarketableG > 0 ? nth(['small', 'split', 'slugs', 'forked'], this.chance.below(4)) : null,
    })
    this.books.harvest(one.season, one.garden, marketableG, unmarketableG)
    return (marketableG + unmarketableG) / 1000
  }

  /** The total loss that is there on purpose; of the rest one planting in nine loses a part. */
  private lose(one: Planted, startsOn: IsoDate): { share: number } {
    const total = this.truth.onPurpose.totalLoss
    const draw = this.chance.uniform()
    const share = 100 * (2 + this.chance.below(5))
    if (one.season === total.season && one.garden === total.garden && one.crop === total.crop) {
      one.lostFrom = addDays(startsOn, total.dayOfSeason)
      this.loss(one, one.lostFrom, 1000, total.cause, 'no')
      return { share: 0 }
    }
    if (draw > 1 / 9) return { share: 0 }
    const cause = ['pest', 'disease', 'weather', 'weeds'][this.chance.below(4)] ?? 'unknown'
    this.loss(one, addDays(one.sownOn, 35), share, cause, cause === 'weather' ? 'yes' : 'no')
    return { share: share / 1000 }
  }

  private loss(one: Planted, lostOn: IsoDate, sharePermille: number, cause: string, alsoNextDoor: string): void {
    const row = { id: this.newId(), plantingId: one.id, lostOn, isoWeek: weekOf(lostOn), sharePermille, cause }
    this.rows.losses.push({ ...row, outsideMethod: cause === 'weather' ? 1 : 0, alsoNextDoor })
    this.books.loss(one.season, one.garden, this.truth.bedAreaCm2 / 2, sharePermille)
  }

  /** Labour by week and task: each task has its months, and the first season of a method takes a third more. */
  private work(at: SeasonAt, garden: GardenAt, kilograms: number): void {
    const season = nth(this.seasons, at)
    const weeks = weeksBetween(season.startsOn, season.endsOn)
    const square = (this.truth.bedsOfGarden * this.truth.bedAreaCm2) / 10_000
    for (const task of keysOf(this.truth.labour)) {
      const perM2 = this.truth.labour[task]
      const minutes = nth(perM2, garden) * square * (at === 0 ? 1.33 : 1)
      this.overWeeks(at, garden, task, minutes, weeksOfTask(task, weeks))
    }
    this.overWeeks(at, garden, 'harvest', kilograms * this.truth.minutesOfHarvestPerKg, weeks.slice(18, 43))
    this.overWeeks(at, garden, 'washing and packing', kilograms * 1.5, weeks.slice(18, 43))
  }

  private overWeeks(at: SeasonAt, garden: GardenAt, task: string, minutes: number, weeks: readonly string[]): void {
    const { weeksNeverClosed, offPaper } = this.truth.onPurpose
    const onPaper: readonly string[] = at === offPaper.season && garden === offPaper.garden ? offPaper.weeks : []
    const unwritten: readonly string[] =
      at === weeksNeverClosed.season && garden === weeksNeverClosed.garden ? weeksNeverClosed.weeks : []
    for (const isoWeek of weeks) {
      const personMinutes = Math.round(((minutes / weeks.length) * (0.6 + 0.8 * this.chance.uniform())) / 5) * 5
      if (personMinutes <= 0 || unwritten.includes(isoWeek)) continue
      const phase = at === 0 ? 'establishing' : 'established'
      this.rows.labourEntries.push({
        id: this.newId(),
        seasonId: this.idOf('seasons', at),
        isoWeek,
        task,
        phase,
        personMinutes,
        gardenId: this.idOf('gardens', garden),
        shareRule: null,
        who: ['A.', 'B.', 'M.'][this.chance.below(3)] ?? null,
        ...(onPaper.includes(isoWeek) ? { source: 'paper', writtenOn: offPaper.writtenOn } : {}),
      })
      this.books.labour(at, garden, task, personMinutes)
    }
  }

  private close(at: SeasonAt): void {
    const season = nth(this.seasons, at)
    const { weeksNeverClosed } = this.truth.onPurpose
    const weeks = weeksBetween(season.startsOn, season.endsOn)
    for (const garden of this.truth.gardens.keys()) {
      const open: readonly string[] =
        at === weeksNeverClosed.season && garden === weeksNeverClosed.garden ? weeksNeverClosed.weeks : []
      for (const isoWeek of weeks) {
        for (const what of ['hours', 'weights'] as const) {
          if (what === 'hours' && open.includes(isoWeek)) continue
          this.rows.weekClosings.push({ id: this.newId(), gardenId: this.idOf('gardens', garden), isoWeek, what })
          this.books.closing(at, garden, what)
        }
      }
      this.books.weeks(at, garden, weeks.length)
    }
  }

  /** The weighing that is mended after its season was closed: the sums count what it was mended to. */
  mendedHarvest(): string {
    const { season, garden, crop, grams } = this.truth.onPurpose.changedAfterClosing
    const beds = new Set(
      this.rows.beds.filter((bed) => bed.gardenId === this.idOf('gardens', garden)).map((bed) => bed.id),
    )
    const planting = this.rows.plantings.find(
      (one) =>
        one.seasonId === this.idOf('seasons', season) &&
        one.cultivarId === this.idOf('cultivars', crop) &&
        beds.has(String(one.bedId)),
    )
    const harvest = this.rows.harvests.find((one) => one.plantingId === planting?.id)
    // A bed without a crate yet gets the whole weight.
    this.books.harvest(season, garden, grams - Number(harvest?.marketableG ?? 0), 0)
    return linkOf(harvest?.id)
  }

  /** In the order of the walk. */
  gardenIds(): string[] {
    return this.truth.gardens.map((_, at) => this.idOf('gardens', at))
  }

  /** A day of the truth as it is written, in the years that this example is made for. */
  day(asWritten: IsoDate): IsoDate {
    return movedDay(asWritten, this.years)
  }

  idOf(kind: string, at: number): string {
    return this.named(kind, String(at))
  }

  private readonly names = new Map<string, string>()

  /** The id of a row that has a place in the truth, made when it is first asked for. */
  named(kind: string, place: string): string {
    const key = `${kind} ${place}`
    const id = this.names.get(key) ?? this.newId()
    this.names.set(key, id)
    return id
  }
}
