import type { FastifyRequest } from 'fastify'
import type { z } from 'zod'
import { bedsOf, methodsOf } from '../gardens/gardens.queries.ts'
import { nameIfAny } from '../lookups/unsaid.ts'
import { notFound } from '../web/problem.ts'
import { wordsHere } from '../web/words-here.ts'
import type { assignmentForm } from './seasons.form.ts'
import { saveAssignment, seasonsOf } from './seasons.queries.ts'
import { yearOfMethod } from './year-of-method.ts'

const words = () => wordsHere().seasons

type Request = FastifyRequest<{ Params: { season: string } }>

/** Lays a method on a garden or a bed; what a field says where that is refused, or asked about first. */
export function assigned(
  request: Request,
  { place, yearOfMethod: typed, surely, ...given }: z.output<typeof assignmentForm>,
): Promise<Record<string, string> | undefined> {
  const { group, personId } = request.member
  return request.write(async (tx) => {
    const season = (await seasonsOf(tx, group.id)).find((one) => one.id === request.params.season)
    const year = season ? yearOfMethod(typed, season.startsOn) : typed
    const [kind, id = ''] = place.split(':')
    const bed = kind === 'bed' ? (await bedsOf(tx, group.id)).find((one) => one.id === id) : undefined
    if (kind === 'bed' && !bed) throw notFound()
    const at = bed ? { gardenId: bed.gardenId, bedId: bed.id } : { gardenId: id, bedId: null }
    const laid = { ...given, ...at, yearOfMethod: year, surely: surely === 'yes' }
    const author = { groupId: group.id, createdBy: personId }
    const found = await saveAssignment(tx, author, request.params.season, laid)
    if (found.kind === 'answer') return undefined
    if (found.code === 'seasonClosed') return { place: words().closedLayout }
    const method = (await methodsOf(tx, group.id)).find((one) => one.id === found.methodId)
    return { surely: words().laidAlready(nameIfAny(method)) }
  })
}
