import cookie from '@fastify/cookie'
import csrf from '@fastify/csrf-protection'
import formbody from '@fastify/formbody'
import helmet from '@fastify/helmet'
import type { FastifyInstance, FastifyRequest } from 'fastify'
import qs from 'qs'
import { Problem } from './problem.ts'
import { addUploads } from './uploads.ts'

declare module 'fastify' {
  interface FastifyContextConfig {
    /** A form that a guest sends before anything is stored with them: its Origin is checked, a token needs a cookie. */
    withoutCookie?: boolean
  }
}

export interface SecurityOptions {
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
  await app.register(csrf, {
    cookieKey: 'evenground-form',
    cookieOpts: { path: '/', httpOnly: true, sameSite: 'lax', secure: secureCookies },
    getToken: (request) => (request.body as { _csrf?: string } | undefined)?._csrf,
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
