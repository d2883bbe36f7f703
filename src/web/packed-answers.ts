import { promisify } from 'node:util'
import { gzip } from 'node:zlib'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { sent } from '../lookups/unsaid.ts'
import { givenBy } from './given.ts'
import { asGzip, asPlain, type Packed, packedOnce } from './gzip.ts'

declare module 'fastify' {
  interface FastifyContextConfig {
    /** A secret that is the same at each opening stands on it beside what an address says: its length would tell. */
    neverPacked?: boolean
  }
}

const packable = /^(?:text\/|application\/(?:manifest\+)?json|image\/svg\+xml)/
/** Of fewer letters the head would be most of it. */
const fewest = 1000

export const isPackable = (type: string): boolean => packable.test(type)

/** Whether the one who asks takes gzip (RFC 9110, 12.5.3). */
function takesGzip(request: FastifyRequest): boolean {
  const said = new Map<string, number>()
  for (const one of sent(request.headers['accept-encoding']).toLowerCase().split(',')) {
    const [name = '', ...parameters] = one.split(';').map((part) => part.trim())
    const weight = parameters.find((part) => part.startsWith('q='))
    said.set(name, weight === undefined ? 1 : Number(weight.slice(2)))
  }
  const weight = said.get('gzip') ?? said.get('*')
  return weight !== undefined && weight > 0
}

/**
 * What another site has led to is sent as it is: it could lead to one address after another and hold the lengths of
 * the answers, which a listener sees, beside what it wrote into the addresses (BREACH).
 */
const mayPack = (request: FastifyRequest): boolean =>
  takesGzip(request) &&
  request.headers['sec-fetch-site'] !== 'cross-site' &&
  request.routeOptions.config.neverPacked !== true

/** Compresses whatever is sent as a text; bytes were compressed where they are kept, or need not be. */
export function packAnswers(app: FastifyInstance): void {
  app.addHook('onSend', (request, reply, payload, done) => {
    if (!isPackable(sent(reply.getHeader('content-type')))) return done(null, payload)
    void reply.header('vary', 'accept-encoding')
    if (typeof payload !== 'string' || payload.length < fewest || !mayPack(request)) return done(null, payload)
    const given = givenBy(reply)
    packedOnce(payload, given).then(
      (packed) => {
        void reply.header('content-encoding', 'gzip')
        done(null, asGzip(packed, given))
      },
      (error: Error) => done(error),
    )
  })
}

/** Sends what is kept in pieces, with these texts between them. */
export async function sendPacked(reply: FastifyReply, packed: Packed, differing: readonly string[]) {
  if (!mayPack(reply.request)) return reply.send(await asPlain(packed, differing))
  return reply.header('content-encoding', 'gzip').send(asGzip(packed, differing))
}

/** The same bytes twice, for those who take gzip and those who do not: nothing in them is of the one who asks. */
export interface Both {
  readonly plain: Buffer
  readonly gzip: Buffer
}

const packs = promisify(gzip)

/** Compressed on a thread of the system. */
export async function bothOf(text: string): Promise<Both> {
  return { plain: Buffer.from(text), gzip: await packs(text) }
}

export const sendEither = (reply: FastifyReply, both: Both) =>
  takesGzip(reply.request) ? reply.header('content-encoding', 'gzip').send(both.gzip) : reply.send(both.plain)
