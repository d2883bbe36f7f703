import { formatArea, formatDay } from '../quantities/formatting.ts'

interface SeasonRows {
  readonly seasonId: string
  readonly gardens: readonly { id: string; name: string }[]
  readonly beds: readonly { id: string; gardenId: string; name: string }[]
  readonly methods: readonly { id: string; name: string }[]
  readonly crops: readonly { id: string; name: string }[]
  readonly assignments: readonly {
    seasonId: string
    gardenId: string
    bedId: string | null
    methodId: string
    phase: string
    how: string
  }[]
  readonly plantings: readonly PlantingShown[]
  readonly matchedSets: readonly { id: string; name: string }[]
}

interface PlantingShown {
  readonly id: string
  readonly seasonId: string
  readonly bedId: string
  readonly crop: string
  readonly cultivar: string
  readonly areaCm2: number
  readonly sownOn: string | null
  readonly plantedOn: string | null
  readonly clearedOn: string | null
  readonly matchedSetId: string | null
}

/** What a season's page shows: which method lies where, what is planted, and what that layout can show. */
export function seasonPage(rows: SeasonRows, locale: string) {
  const ofSeason = rows.assignments.filter((one) => one.seasonId === rows.seasonId)
  const assigned = ofSeason.filter((one) => one.bedId === null)
  const planted = rows.plantings.filter((one) => one.seasonId === rows.seasonId)
  const methodName = new Map(rows.methods.map((method) => [method.id, method.name]))
  const bed = new Map(rows.beds.map((one) => [one.id, one]))
  const gardenName = new Map(rows.gardens.map((garden) => [garden.id, garden.name]))
  const setName = new Map(rows.matchedSets.map((set) => [set.id, set.name]))
  return {
    gardens: rows.gardens.map((garden) => {
      const own = assigned.find((one) => one.gardenId === garden.id)
      return {
        name: garden.name,
        method: methodName.get(own?.methodId ?? '') ?? '',
        phase: own?.phase ?? '',
        how: own?.how ?? '',
      }
    }),
    bedsAlone: ofSeason.flatMap((own) => {
      const alone = bed.get(own.bedId ?? '')
      if (!alone) return []
      const method = methodName.get(own.methodId) ?? ''
      const garden = gardenName.get(alone.gardenId) ?? ''
      return [{ garden, bed: alone.name, method, phase: own.phase, how: own.how }]
    }),
    placeChoices: rows.gardens.flatMap((garden) => [
      { value: `garden:${garden.id}`, label: garden.name },
      ...rows.beds
        .filter((one) => one.gardenId === garden.id)
        .map((one) => ({ value: `bed:${one.id}`, label: `${garden.name}, ${one.name}` })),
    ]),
    plantings: planted.map((planting) => ({
      id: planting.id,
      name: `${planting.crop}, ${planting.cultivar}`,
      garden: gardenName.get(bed.get(planting.bedId)?.gardenId ?? '') ?? '',
      bed: bed.get(planting.bedId)?.name ?? '',
      area: formatArea(planting.areaCm2, locale),
      day: formatDay(planting.sownOn ?? planting.plantedOn ?? '', locale),
      set: setName.get(planting.matchedSetId ?? '') ?? '',
      cleared: planting.clearedOn ? formatDay(planting.clearedOn, locale) : null,
    })),
    oneGardenAMethod: assigned.length > 1 && new Set(assigned.map((one) => one.methodId)).size === assigned.length,
    nothingMatched: planted.every((planting) => planting.matchedSetId === null),
    methodChoices: rows.methods.map(({ id, name }) => ({ value: id, label: name })),
    cropChoices: rows.crops.map(({ id, name }) => ({ value: id, label: name })),
    bedChoices: rows.gardens.map((garden) => ({
      garden: garden.name,
      key: garden.id,
      beds: rows.beds.filter((one) => one.gardenId === garden.id).map(({ id, name }) => ({ value: id, label: name })),
    })),
  }
}
