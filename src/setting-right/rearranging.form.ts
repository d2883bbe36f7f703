import { z } from 'zod'
import type { AreaUnit } from '../quantities/areas.ts'
import { area, choice, optional, optionalText, uuid, wholeNumber } from '../web/fields.ts'
import { partWays } from './parted.ts'

const version = () => wholeNumber({ least: 1, most: 1_000_000 })
const reason = () => optionalText({ most: 300 }).optional()

export const joinForm = z.object({
  version: version(),
  otherId: uuid(),
  ground: choice(['once', 'each']),
  closedReason: reason(),
})

/** "line-<id>" says of one entry what the choice for all of them does not. */
export const partForm = (unit: AreaUnit) =>
  z
    .looseObject({
      id: uuid(),
      version: version(),
      bedId: uuid(),
      areaCm2: area(unit),
      plants: optional(wholeNumber({ least: 1, most: 1_000_000 })),
      entries: choice(partWays).optional(),
      closedReason: reason(),
    })
    .transform(({ id, version, bedId, areaCm2, plants, entries = null, closedReason, ...rest }) => ({
      id,
      version,
      bedId,
      areaCm2,
      plants,
      entries,
      closedReason,
      lines: linesIn(rest),
    }))

function linesIn(rest: Record<string, unknown>) {
  const said = Object.entries(rest).flatMap(([name, value]) => {
    const id = name.startsWith('line-') ? z.uuid().safeParse(name.slice(5)) : undefined
    const way = z.enum(partWays).safeParse(value)
    return id?.success && way.success ? [[id.data, way.data] as const] : []
  })
  return new Map(said)
}
