import type { FastifyInstance, FastifyRequest } from 'fastify'
import { z } from 'zod'
import { ofTable } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { asShown } from '../lookups/unsaid.ts'
import { type Correctable, correcting } from '../web/correcting.ts'
import { optionalText, uuid } from '../web/fields.ts'
import { readForm, refuseForm } from '../web/form.ts'
import { type FormWithFile, readFormWithFile } from '../web/form-with-file.ts'
import { madeAnew, type Photo } from '../web/picture.ts'
import { notFound } from '../web/problem.ts'
import { addressPart } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'
import { showNotes } from './notes.routes.ts'
import { bytesKept, jpegOf, savePicture } from './pictures.queries.ts'
import { pictures } from './pictures.table.ts'

const words = () => wordsHere().notes

/** The most bytes of a picture that is sent in. */
const mostBytes = 10_000_000

const pictureForm = z.object({ id: uuid(), noteId: uuid(), caption: optionalText({ most: 200 }) })
const captionForm = z.object({ caption: optionalText({ most: 200 }) })

/** Pictures of what was seen: added to a note by recorders, looked at by all of the group. */
export function pictureRoutes(app: FastifyInstance): void {
  const config = { access: 'recorder', upload: mostBytes } as const
  app.post('/g/:group/notes/pictures', { config }, async (request, reply) => {
    const sent = await readFormWithFile(app, request, reply)
    const form = readForm(pictureForm, sent.typed)
    if (form.kind === 'refused') return showNotes(request, reply, { form: 'pictures', ...form })
    const picture = await pictureIn(sent)
    if (typeof picture === 'string') {
      return showNotes(request, reply, { form: 'pictures', ...refuseForm(sent.typed, { picture }) })
    }
    const { group } = request.member
    if (await isFull(request, picture.jpeg.length)) {
      return showNotes(request, reply, { form: 'pictures', ...refuseForm(sent.typed, { picture: words().noRoom }) })
    }
    const saved = await request.write((tx) => addTo(tx, request, form.value, picture))
    if (!saved) {
      const errors = { noteId: wordsHere().fields.notChosen }
      return showNotes(request, reply, { form: 'pictures', ...refuseForm(sent.typed, errors) })
    }
    return reply.backTo(`/g/${group.slug}/notes`, words().pictureSaved)
  })

  app.get('/g/:group/notes/pictures/:picture', { config: { access: 'reader' } }, async (request, reply) => {
    const id = z.uuid().safeParse(addressPart(request, 'picture'))
    const { group } = request.member
    const jpeg = id.success ? await request.read((tx) => jpegOf(tx, group.id, id.data)) : undefined
    if (!jpeg) throw notFound()
    return reply.type('image/jpeg').header('cache-control', 'private, max-age=86400').send(Buffer.from(jpeg))
  })

  correcting(app, caption)
}

interface Given {
  readonly id: string
  readonly noteId: string
  readonly caption: string | null
}

function addTo(tx: Tx, request: FastifyRequest, given: Given, { jpeg, width, height }: Photo): Promise<boolean> {
  const { group, personId } = request.member
  return savePicture(tx, { groupId: group.id, createdBy: personId }, { ...given, jpeg, width, height })
}

async function isFull(request: FastifyRequest, more: number): Promise<boolean> {
  const { ofGroup, ofAll } = await request.read((tx) => bytesKept(tx, request.member.group.id))
  const { picturesOfGroup, picturesOfAll } = request.server.quotas
  return ofGroup + more > picturesOfGroup || ofAll + more > picturesOfAll
}

/** The picture made anew, or the sentence that says why not. */
async function pictureIn({ bytes, tooLarge }: FormWithFile): Promise<Photo | string> {
  if (!bytes) return words().pictureMissing
  if (tooLarge) return words().pictureTooLarge(mostBytes / 1_000_000)
  const picture = await madeAnew(bytes)
  return picture.kind === 'refused' ? words().noPicture : picture
}

type PictureRow = typeof pictures.$inferSelect

const caption: Correctable<PictureRow, { caption: string | null }> = {
  ...ofTable(pictures),
  kind: 'pictures',
  access: 'recorder',
  title: (row) => row.caption ?? words().picture,
  fields: (row) => [{ name: 'caption', label: words().fields.caption, value: asShown(row.caption) }],
  form: () => captionForm,
  back: (_row, request) => `/g/${request.member.group.slug}/notes`,
}
