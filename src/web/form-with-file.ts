import { readFile } from 'node:fs/promises'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Typed } from './form.ts'
import { fieldsOf } from './query-of.ts'
import { removeFolder } from './temporary.ts'
import { readUpload } from './uploads.ts'

export interface FormWithFile {
  readonly typed: Typed
  /** The file's bytes; null where none was chosen. */
  readonly bytes: Buffer | null
  /** Longer than the route takes: `bytes` is then its beginning. */
  readonly tooLarge: boolean
}

/** A form whose file is small enough to be held in memory; sent without a file field it is read as any other form. */
export async function readFormWithFile(
  app: FastifyInstance,
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<FormWithFile> {
  if (!request.isMultipart()) return { typed: fieldsOf(request.body), bytes: null, tooLarge: false }
  const { fields, file, folder, tooLarge } = await readUpload(app, request, reply)
  try {
    return { typed: fields, bytes: file === null ? null : await readFile(file), tooLarge }
  } finally {
    await removeFolder(folder)
  }
}
