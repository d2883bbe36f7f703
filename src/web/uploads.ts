import multipart from '@fastify/multipart'
import type { FastifyInstance, FastifyRequest } from 'fastify'
import { Problem } from './problem.ts'

/** A file that came with a form. */
export interface Upload {
  readonly filename: string
  readonly bytes: Buffer
  /** It was longer than its route takes; `bytes` is then its beginning. */
  readonly tooLarge: boolean
}

declare module 'fastify' {
  interface FastifyContextConfig {
    /** The most bytes of the one file that a form of this route may bring; without it a route takes no file. */
    upload?: number
  }
  interface FastifyRequest {
    upload: Upload | null
  }
}

export const isMultipart = (request: FastifyRequest) =>
  /^multipart\/form-data/i.test(request.headers['content-type'] ?? '')

/** What browsers write for a file field that was left blank. */
const leftBlank = (upload: Upload) => upload.filename === '' && upload.bytes.length === 0

/**
 * Reads forms that bring a file. Registered after the guard: the body of a stranger is never read. The form's token comes
 * with the body, so it is checked here and not where forms without files are.
 */
export async function addUploads(app: FastifyInstance): Promise<void> {
  await app.register(multipart, { throwFileSizeLimit: false })
  app.decorateRequest('upload', null)
  app.addHook('preHandler', (request, reply, done) => {
    if (!isMultipart(request)) return done()
    const most = request.routeOptions.config.upload
    if (most === undefined) return done(new Problem('bad-request'))
    readForm(request, most).then(() => app.csrfProtection(request, reply, done), done)
  })
}

async function readForm(request: FastifyRequest, most: number): Promise<void> {
  const fields = new Map<string, unknown>()
  const limits = { fileSize: most, files: 1, fields: 50, fieldSize: 3_000_000, parts: 60 }
  for await (const part of request.parts({ limits })) {
    if (part.type === 'field' && part.valueTruncated) throw new Problem('bad-request')
    if (part.type === 'field') fields.set(part.fieldname, part.value)
    else {
      const bytes = await part.toBuffer()
      const upload = { filename: part.filename, bytes, tooLarge: part.file.truncated }
      if (!leftBlank(upload)) request.upload = upload
    }
  }
  request.body = Object.fromEntries(fields)
}
