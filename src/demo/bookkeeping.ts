/** Sums that the generator keeps while it makes the rows, by season and garden: what the first table must come to. */
interface GardenSums {
  bedAreaCm2: number
  grossAreaCm2: number
  plantings: number
  plantedAreaCm2: number
  lostAreaPermille: number
  marketableG: number
  unmarketableG: number
  minutesWithoutHarvest: number
  minutesOfHarvest: number
  costMinor: number
  weeks: number
  hoursClosed: number
  weightsClosed: number
}

export type Bookkeeping = ReturnType<typeof newBookkeeping>

export function newBookkeeping() {
  const sums = new Map<string, GardenSums>()
  const at = (season: number, garden: number): GardenSums => {
    const key = `${season} ${garden}`
    const sum = sums.get(key) ?? zero()
    sums.set(key, sum)
    return sum
  }
  return {
    of: at,
    ground: (season: number, garden: number, bedAreaCm2: number, grossAreaCm2: number) => {
      Object.assign(at(season, garden), { bedAreaCm2, grossAreaCm2 })
    },
    planting: (season: number, garden: number, areaCm2: number) => {
      at(season, garden).plantings += 1
      at(season, garden).plantedAreaCm2 += areaCm2
    },
    harvest: (season: number, garden: number, good: number, bad: number) => {
      at(season, garden).marketableG += good
      at(season, garden).unmarketableG += bad
    },
    loss: (season: number, garden: number, areaCm2: number, permille: number) => {
      at(season, garden).lostAreaPermille += areaCm2 * permille
    },
    labour: (season: number, garden: number, task: string, minutes: number) => {
      const ofHarvest = task === 'harvest' || task === 'washing and packing'
      at(season, garden)[ofHarvest ? 'minutesOfHarvest' : 'minutesWithoutHarvest'] += minutes
    },
    closing: (season: number, garden: number, what: 'hours' | 'weights') => {
      at(season, garden)[what === 'hours' ? 'hoursClosed' : 'weightsClosed'] += 1
    },
    weeks: (season: number, garden: number, weeks: number) => {
      at(season, garden).weeks = weeks
    },
    /** The truth has only costs that divide without a rest over the seasons that they last. */
    cost: (season: number, garden: number, minor: number, life: number, seasons: number) => {
      for (let later = season; later < Math.min(season + life, seasons); later++) {
        at(later, garden).costMinor += minor / life
      }
    },
  }
}

const zero = (): GardenSums => ({
  bedAreaCm2: 0,
  grossAreaCm2: 0,
  plantings: 0,
  plantedAreaCm2: 0,
  lostAreaPermille: 0,
  marketableG: 0,
  unmarketableG: 0,
  minutesWithoutHarvest: 0,
  minutesOfHarvest: 0,
  costMinor: 0,
  weeks: 0,
  hoursClosed: 0,
  weightsClosed: 0,
})
