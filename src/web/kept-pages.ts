import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Kept } from '../accounts/kept.ts'
import { newId } from '../db/new-id.ts'
import { dayIn } from '../quantities/dates.ts'
import { noticeCookie } from './cookies.ts'

declare module 'fastify' {
  interface FastifyContextConfig {
    /**
     * The page rests on nothing but its address, who asks, the group's day and what the group's history counts: once
     * made it is given again for as long as all of these stay.
     */
    keepsPage?: boolean
  }
  interface FastifyRequest {
    /** Where the page that is made now is to be kept; null where it is not. */
    keepsAt: KeptAt | null
  }
  interface FastifyReply {
    /** An id for a form that is new: another at each opening, of a page that is kept too. */
    freshId(): string
  }
}

interface KeptAt {
  readonly kept: Kept
  readonly groupId: string
  readonly changes: number
  readonly name: string
}

/** A page in pieces; between them what differs at each opening: the form's token (0) or a fresh id, from 1 on. */
interface InPieces {
  readonly pieces: readonly Buffer[]
  readonly between: readonly number[]
  readonly fresh: number
}

/** Nobody's address is as long: what could be asked for without end is not kept. */
const longestAddress = 300

/** Gives a page that is kept before anything is read for it; after the guard, which knows who asks. */
export function keepPages(app: FastifyInstance, kept: Kept): void {
  app.decorateRequest('keepsAt', null)
  app.decorateReply('freshId', function freshId(this: FastifyReply) {
    const id = newId()
    freshOf.set(this, [...freshIdsOf(this), id])
    return id
  })
  app.addHook('preHandler', async (request, reply) => {
    const at = placeOfPage(request, kept)
    if (at === null) return
    const page = await kept.at<InPieces>(at.groupId, at.changes, at.name)
    if (page === undefined) {
      request.keepsAt = at
      return
    }
    return reply.type('text/html; charset=utf-8').send(wholeAgain(page, reply.formToken()))
  })
}

/** The ids that an answer has given so far. */
const freshOf = new WeakMap<FastifyReply, readonly string[]>()
const freshIdsOf = (reply: FastifyReply) => freshOf.get(reply) ?? []

function placeOfPage(request: FastifyRequest, kept: Kept): KeptAt | null {
  const { member, changes, person, url } = request
  if (!request.routeOptions.config.keepsPage || changes === null || url.length > longestAddress) return null
  // What was saved is said once.
  if (request.cookies[noticeCookie]) return null
  const name = JSON.stringify([url, person?.id, person?.name, member, dayIn(member.group.timeZone, new Date())])
  return { kept, groupId: member.group.id, changes, name }
}

/** Keeps the page that this answer makes; null where it is not to be kept. */
export function keptFor(reply: FastifyReply, status = 200): ((html: string, token: string) => void) | null {
  const at = reply.request.keepsAt
  if (at === null || status !== 200) return null
  return (html, token) => {
    const page = inPieces(html, [token, ...freshIdsOf(reply)])
    if (page === null) return
    const { kept, ...place } = at
    void kept.of({ ...place, make: () => page, bytesOf: () => 2 * Buffer.byteLength(html) })
  }
}

/** Null where a form on it has an id that would be the same at each opening: two entries would be taken for one. */
function inPieces(html: string, differing: readonly string[]): InPieces | null {
  const found = [...html.matchAll(/name="id"\s+value="([^"]*)"/g)].map(([, id = '']) => id)
  if (found.some((id) => !differing.includes(id))) return null
  const places = differing.flatMap((one, i) => placesOf(html, one).map((index) => ({ index, i, length: one.length })))
  places.sort((a, b) => a.index - b.index)
  const starts = [0, ...places.map(({ index, length }) => index + length)]
  return {
    pieces: starts.map((start, i) => Buffer.from(html.slice(start, places[i]?.index))),
    between: places.map(({ i }) => i),
    fresh: differing.length - 1,
  }
}

function placesOf(html: string, text: string): number[] {
  const places: number[] = []
  for (let at = html.indexOf(text); at >= 0; at = html.indexOf(text, at + text.length)) places.push(at)
  return places
}

function wholeAgain({ pieces, between, fresh }: InPieces, token: string): Buffer {
  const differing = [token, ...Array.from({ length: fresh }, () => newId())].map((one) => Buffer.from(one))
  return Buffer.concat(pieces.flatMap((piece, i) => [piece, differing[between[i] ?? -1] ?? Buffer.alloc(0)]))
}
