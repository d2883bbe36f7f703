import { addDays, type IsoDate } from '../quantities/dates.ts'
import type { Making } from './making.ts'

/** Two laboratories and two extractants for phosphorus: values that must not be joined. */
export function soil(making: Making): void {
  const siteId = making.named('sites', 'Quern Hill')
  const days = (['2023-08-05', '2024-08-06', '2025-08-05'] as const).map((day) => making.day(day))
  for (const [year, sampledOn] of days.entries()) {
    for (const [garden] of making.truth.gardens.entries()) {
      const at = { siteId, gardenId: making.idOf('gardens', garden), sampledOn, depthMm: 150 }
      const noise = making.chance.normal()
      const mehlich = year === 2 && garden === 2
      const laboratory = mehlich ? 'Second laboratory (invented)' : 'Harbour laboratory (invented)'
      const phosphorus = 22 + 6 * garden + (garden === 2 ? 9 * year : 2 * year) + 2 * noise
      const values = [
        { analyte: 'pH', extractant: 'water', value: (6 + 0.1 * garden + 0.05 * noise).toFixed(1), unit: 'pH' },
        {
          analyte: 'P',
          extractant: mehlich ? 'Mehlich-3' : 'Olsen',
          value: (mehlich ? phosphorus * 1.7 : phosphorus).toFixed(0),
          unit: mehlich ? 'mg/kg' : 'mg/L',
        },
        {
          analyte: 'K',
          extractant: 'ammonium acetate',
          value: (140 + 30 * garden + 10 * noise).toFixed(0),
          unit: 'mg/kg',
        },
        {
          analyte: 'organic matter',
          extractant: 'loss on ignition',
          value: (5 + (garden === 2 ? 0.5 * year : 0.1 * year) + 0.1 * noise).toFixed(1),
          unit: '%',
        },
      ]
      for (const one of values) making.rows.soilTests.push({ id: making.newId(), ...at, laboratory, ...one })
    }
  }
}

export function notesAndCounts(making: Making): void {
  const note = (garden: number, seenOn: IsoDate, kind: string, words: string, severity: number | null) =>
    making.rows.fieldNotes.push({
      id: making.newId(),
      gardenId: making.idOf('gardens', garden),
      seenOn,
      kind,
      words,
      severity,
    })
  note(3, making.day('2024-12-28'), 'pest', 'Slugs under the hay have taken the potatoes; the row next door stands.', 5)
  note(1, making.day('2025-01-20'), 'weather', 'Five weeks without a dry day for the notebook.', null)
  note(2, making.day('2024-10-30'), 'other', 'The compost came two months late; half the sowing was done.', null)
  note(4, making.day('2025-05-20'), 'weed', 'Couch grass has come in from the pasture side.', 4)
  note(0, making.day('2025-11-11'), 'germination', 'Carrots up in eleven days.', null)
  for (const [year, countedOn] of (['2023-09-20', '2024-09-18', '2025-09-17'] as const)
    .map((day) => making.day(day))
    .entries()) {
    for (const garden of making.truth.gardens.keys()) {
      const worms = Math.max(0, Math.round(6 + 3 * garden + 2 * year + 2 * making.chance.normal()))
      const counted = { what: 'earthworms', method: 'hand sorting, one spade of 20 x 20 x 20 cm', unit: 'worms' }
      making.rows.counts.push({
        id: making.newId(),
        gardenId: making.idOf('gardens', garden),
        countedOn,
        ...counted,
        value: String(worms),
      })
    }
  }
  const patch = {
    gardenId: making.idOf('gardens', 4),
    species: 'couch grass (Elymus repens)',
    position: 'pasture side',
  }
  for (const [seenOn, areaCm2, shootsPerM2] of [
    ['2025-05-20', 60_000, 100],
    ['2026-04-15', 9_000, 5],
  ] as const) {
    making.rows.weedPatches.push({ id: making.newId(), ...patch, seenOn: making.day(seenOn), areaCm2, shootsPerM2 })
  }
}

/** A maritime climate of the southern hemisphere: warmest late in January. */
export function weather(making: Making, seasons: readonly { startsOn: IsoDate; endsOn: IsoDate }[]): void {
  for (const season of seasons) {
    for (let day = season.startsOn; day <= season.endsOn; day = addDays(day, 1)) {
      const year = (Date.parse(`${day}T00:00:00Z`) - Date.parse('2023-01-25T00:00:00Z')) / 86_400_000 / 365.25
      const mean = 120 + 55 * Math.cos(2 * Math.PI * year) + 20 * making.chance.normal()
      const half = 40 + 15 * making.chance.uniform()
      const rain = making.chance.uniform() < 0.35 ? Math.round(-60 * Math.log(1 - making.chance.uniform())) : 0
      making.rows.weatherDays.push({
        id: making.newId(),
        station: 'Quern Hill (invented)',
        day,
        rainTenthsMm: rain,
        minimumTenthsC: Math.round(mean - half),
        maximumTenthsC: Math.round(mean + half),
      })
    }
  }
}
