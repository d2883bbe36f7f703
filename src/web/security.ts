import cookie from '@fastify/cookie'
import csrf from '@fastify/csrf-protection'
import formbody from '@fastify/formbody'
import helmet from '@fastify/helmet'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import qs from 'qs'
import { formCookieOf, sessionCookieOf } from './cookies.ts'
import { noteGiven } from './given.ts'
import { Problem } from './problem.ts'
import { fieldsOf } from './query-of.ts'
import { addUploads } from './uploads.ts'

declare module 'fastify' {
  interface FastifyContextConfig {
    /** A form that a guest sends before anything is stored with them: its Origin is checked, a token needs a cookie. */
    withoutCookie?: boolean
  }
  interface FastifyRequest {
    /** The token that its answer gives the session in place of the one it came with. */
    goesOnBy?: string
  }
  interface FastifyReply {
    /** What a form of this page carries: it holds in the session it was made in, and in no other. */
    formToken(): string
  }
}

interface SecurityOptions {
  readonly secureCookies: boolean
}

/** Headers, cookies, forms: what stands between a stranger's page and a group's record. */
export async function addSecurity(app: FastifyInstance, { secureCookies }: SecurityOptions): Promise<void> {
  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        'default-src': ["'none'"],
        'style-src': ["'self'"],
        'script-src': ["'self'"],
        'font-src': ["'self'"],
        'img-src': ["'self'", 'data:'],
        'connect-src': ["'self'"],
        // The worker that keeps the page of a week, and what a phone reads to put it among its programs.
        'worker-src': ["'self'"],
        'manifest-src': ["'self'"],
        'form-action': ["'self'"],
        'base-uri': ["'none'"],
        'frame-ancestors': ["'none'"],
      },
    },
    strictTransportSecurity: secureCookies,
    // Under "no-referrer" browsers send "Origin: null" with a form, which the check below would refuse.
    referrerPolicy: { policy: 'same-origin' },
  })
  // Forms take forms only: of another kind of body nothing is read.
  app.removeContentTypeParser(['application/json', 'text/plain'])
  await app.register(formbody, { parser: readBody })
  await addUploads(app)
  await app.register(cookie)
  const session = sessionCookieOf(secureCookies)
  // The session's own secret, which no other page can know: a cookie of forms that was planted beforehand is of no use.
  const boundTo = (request: FastifyRequest) => request.goesOnBy || request.cookies[session] || 'nobody'
  await app.register(csrf, {
    cookieKey: formCookieOf(secureCookies),
    csrfOpts: { userInfo: true, hmacKey: 'evenground' },
    getUserInfo: boundTo,
    cookieOpts: { path: '/', httpOnly: true, sameSite: 'lax', secure: secureCookies },
    getToken: (request) => tokenSent(request.body),
  })
  app.decorateReply('formToken', function formToken(this: FastifyReply) {
    return noteGiven(this, this.generateCsrf({ userInfo: boundTo(this.request) }))
  })
  app.addHook('preHandler', (request, reply, done) => {
    if (['GET', 'HEAD', 'OPTIONS'].includes(request.method)) return done()
    if (!cameFromHere(request)) return done(new Problem('foreign-form'))
    if (request.routeOptions.config.withoutCookie) return done()
    // The body of a form with a file is read later; `readUpload` checks its token.
    if (request.routeOptions.config.upload !== undefined && request.isMultipart()) return done()
    app.csrfProtection(request, reply, done)
  })
}

function readBody(text: string): Record<string, unknown> {
  try {
    return qs.parse(text, { depth: 4, arrayLimit: 1000, parameterLimit: 20_000, throwOnLimitExceeded: true })
  } catch {
    throw new Problem('bad-request')
  }
}

function cameFromHere(request: FastifyRequest): boolean {
  const { origin } = request.headers
  if (origin) return origin === `${request.protocol}://${request.host}`
  return request.headers['sec-fetch-site'] === 'same-origin'
}

function tokenSent(body: unknown): string | undefined {
  const token = fieldsOf(body)._csrf
  return typeof token === 'string' ? token : undefined
}
