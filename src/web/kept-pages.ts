import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Kept } from '../accounts/kept.ts'
import { newId } from '../db/new-id.ts'
import { dayIn } from '../quantities/dates.ts'
import { noticeCookie } from './cookies.ts'
import { givenBy, noteGiven } from './given.ts'
import { bytesOfPacked, type Packed, packedToKeep } from './gzip.ts'
import { sendPacked } from './packed-answers.ts'

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

/** A page, compressed; between its pieces the form's token (0) or one of so many fresh ids, from 1 on. */
interface KeptPage {
  readonly packed: Packed
  readonly fresh: number
}

/** Nobody's address is as long: what could be asked for without end is not kept. */
const longestAddress = 300

/** Gives a page that is kept before anything is read for it; after the guard, which knows who asks. */
export function keepPages(app: FastifyInstance, kept: Kept): void {
  app.decorateRequest('keepsAt', null)
  app.decorateReply('freshId', function freshId(this: FastifyReply) {
    return noteGiven(this, newId())
  })
  app.addHook('preHandler', async (request, reply) => {
    const at = placeOfPage(request, kept)
    if (at === null) return
    const page = await kept.at<KeptPage>(at.groupId, at.changes, at.name)
    if (page === undefined) {
      request.keepsAt = at
      return
    }
    const differing = [reply.formToken(), ...Array.from({ length: page.fresh }, () => newId())]
    return sendPacked(reply.type('text/html; charset=utf-8'), page.packed, differing)
  })
}

function placeOfPage(request: FastifyRequest, kept: Kept): KeptAt | null {
  const { member, changes, person, url } = request
  if (!request.routeOptions.config.keepsPage || changes === null || url.length > longestAddress) return null
  // What was saved is said once.
  if (request.cookies[noticeCookie]) return null
  const name = JSON.stringify([url, person?.id, person?.name, member, dayIn(member.group.timeZone, new Date())])
  return { kept, groupId: member.group.id, changes, name }
}

/**
 * Keeps the page that this answer makes and sends it; null where it is not to be kept, and false afterwards where it
 * was not.
 */
export function keptFor(reply: FastifyReply, status = 200): ((html: string, token: string) => Promise<boolean>) | null {
  const at = reply.request.keepsAt
  if (at === null || status !== 200) return null
  return async (html, token) => {
    const differing = [token, ...givenBy(reply).filter((one) => one !== token)]
    if (!mayBeKept(html, differing)) return false
    const page = { packed: await packedToKeep(html, differing), fresh: differing.length - 1 }
    const { kept, ...place } = at
    void kept.of({ ...place, make: () => page, bytesOf: () => bytesOfPacked(page.packed) })
    await sendPacked(reply, page.packed, differing)
    return true
  }
}

/** Not where a form on it has an id that would be the same at each opening: two entries would be taken for one. */
function mayBeKept(html: string, differing: readonly string[]): boolean {
  const found = [...html.matchAll(/name="id"\s+value="([^"]*)"/g)].map(([, id = '']) => id)
  return found.every((id) => differing.includes(id))
}
