import { createWriteStream } from 'node:fs'
import { join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import multipart from '@fastify/multipart'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { Problem } from './problem.ts'
import { removeFolder, temporaryFolder } from './temporary.ts'

declare module 'fastify' {
  interface FastifyContextConfig {
    /**
     * The most bytes of a file that this route takes. Its handler reads the form by `readUpload`, which checks the
     * token.
     */
    upload?: number
  }
}

/**
 * Forms that carry a file. Their body is read by the handler, after the guard: a stranger's file is never written down.
 */
export async function addUploads(app: FastifyInstance): Promise<void> {
  await app.register(multipart, {
    throwFileSizeLimit: false,
    limits: { files: 1, fields: 20, fieldSize: 8 * 1024 * 1024, parts: 25 },
  })
}

export interface Upload {
  readonly fields: Readonly<Record<string, string>>
  /** Where the file lies until the folder is removed; null where none was chosen. */
  readonly file: string | null
  readonly fileName: string
  readonly folder: string
  readonly tooLarge: boolean
}

/** Of files on their way in: bytes that are promised to each, by person. */
const onTheirWay = new Map<object, { readonly person: string; readonly bytes: number }>()

/**
 * Takes room for what a sender says is coming, or for the most that the route takes where they do not say; until their
 * answer is sent, since what was written down is read until then.
 */
function promised({ server, headers, routeOptions, person }: FastifyRequest): () => void {
  const { temporary, filesOfPerson } = server.quotas
  const most = routeOptions.config.upload ?? Number.POSITIVE_INFINITY
  const said = Number(headers['content-length'])
  const bytes = Number.isFinite(said) ? Math.min(said, most) : most
  const whose = person?.id ?? 'nobody'
  const others = [...onTheirWay.values()]
  const taken = others.reduce((sum, one) => sum + one.bytes, 0)
  const own = others.filter((one) => one.person === whose).length
  if (taken + bytes > temporary || own >= filesOfPerson) throw new Problem('too-often')
  const key = {}
  onTheirWay.set(key, { person: whose, bytes })
  return () => void onTheirWay.delete(key)
}

/** Reads a form with a file. The token stands first in it, so that nothing of a foreign form is written down. */
export async function readUpload(app: FastifyInstance, request: FastifyRequest, reply: FastifyReply): Promise<Upload> {
  const release = promised(request)
  reply.raw.once('close', release)
  const folder = await temporaryFolder()
  const fields: Record<string, string> = {}
  let [file, fileName, tooLarge]: [string | null, string, boolean] = [null, '', false]
  try {
    // A route that takes no file takes none of any size.
    const fileSize = request.routeOptions.config.upload ?? 0
    for await (const part of request.parts({ limits: { fileSize } })) {
      if (part.type === 'field') {
        // Nothing is held for a form that has not shown its token.
        if (part.fieldname !== '_csrf' && !fields._csrf) throw new Problem('foreign-form')
        fields[part.fieldname] = String(part.value)
      } else if (!fields._csrf) throw new Problem('foreign-form')
      else {
        await checkToken(app, request, reply, fields)
        file = join(folder, 'file')
        fileName = part.filename
        await pipeline(part.file, createWriteStream(file, { mode: 0o600 }))
        tooLarge ||= part.file.truncated
        // A browser sends a file without a name and without contents where none was chosen.
        if (part.file.bytesRead === 0) file = null
      }
    }
    await checkToken(app, request, reply, fields)
    return { fields, file, fileName, folder, tooLarge }
  } catch (error) {
    await removeFolder(folder)
    throw error
  }
}

/** The plugin answers a wrong token through the reply; here it is thrown, as all else that stops a request. */
function checkToken(app: FastifyInstance, request: FastifyRequest, reply: FastifyReply, fields: object) {
  request.body = fields
  return new Promise<void>((right, wrong) => {
    const answer = Object.create(reply, { send: { value: wrong } }) as FastifyReply
    app.csrfProtection(request, answer, () => right())
  })
}
