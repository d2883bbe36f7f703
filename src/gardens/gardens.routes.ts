import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { constraintOf } from '../db/constraint.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { dayIn } from '../quantities/dates.ts'
import { type FormAnswer, formAsked, readForm, refuseForm } from '../web/form.ts'
import { wordsHere } from '../web/words-here.ts'
import { bedsForm, blockForm, gardenForm, methodForm, siteForm } from './gardens.form.ts'
import { type FormState, gardensPage } from './gardens.page.ts'
import {
  bedsOf,
  blocksOf,
  gardensOf,
  methodsOf,
  saveBeds,
  saveBlock,
  saveGarden,
  saveMethod,
  saveSite,
  sitesOf,
} from './gardens.queries.ts'

const words = () => wordsHere().gardens

/** Which field a constraint of the database speaks of, and what it says there. */
const refusals: Record<string, Record<string, string>> = {
  sites_name_is_taken: {
    get name() {
      return words().nameTaken
    },
  },
  methods_name_is_taken: {
    get name() {
      return words().nameTaken
    },
  },
  gardens_name_is_taken: {
    get name() {
      return words().nameTaken
    },
  },
  beds_name_is_taken: {
    get name() {
      return words().nameTaken
    },
  },
  beds_fit_their_garden: {
    get areaCm2() {
      return words().bedsTooLarge
    },
  },
  blocks_site: {
    get siteId() {
      return wordsHere().fields.notChosen
    },
  },
  gardens_site: {
    get siteId() {
      return wordsHere().fields.notChosen
    },
  },
  beds_garden: {
    get gardenId() {
      return wordsHere().fields.notChosen
    },
  },
}

type Errors = Record<string, string>

/** What a higher chapter knows of a garden: the name of the latest closed season in which a method lay on it. */
interface OfSeasons {
  closedOn(tx: Tx, groupId: string, gardenId: string): Promise<string | null>
}

export function gardenRoutes(app: FastifyInstance, { closedOn }: OfSeasons): void {
  app.get('/g/:group/gardens', { config: { access: 'reader' } }, (request, reply) => show(request, reply, null))

  const adding = <T extends { name: string }>(
    form: string,
    read: (request: FastifyRequest) => FormAnswer<T>,
    save: (tx: Tx, author: { groupId: string; createdBy: string | null }, given: T) => Promise<Errors | void>,
  ) =>
    app.post(`/g/:group/gardens/${form}`, { config: { access: 'keeper' } }, async (request, reply) => {
      const answer = read(request)
      if (answer.kind === 'refused') return show(request, reply, { form, ...answer })
      const { group, personId } = request.member
      try {
        const wrong = await request.write((tx) => save(tx, { groupId: group.id, createdBy: personId }, answer.value))
        if (wrong) return show(request, reply, { form, ...refuseForm(request.body, wrong) })
      } catch (error) {
        const errors = refusals[constraintOf(error)]
        if (!errors) throw error
        return show(request, reply, { form, ...refuseForm(request.body, errors) })
      }
      return reply.backTo(`/g/${group.slug}/gardens`, words().saved(answer.value.name))
    })

  adding('sites', (request) => readForm(siteForm, request.body), saveSite)
  adding('blocks', (request) => readForm(blockForm, request.body), saveBlock)
  adding('methods', (request) => readForm(methodForm, request.body), saveMethod)
  adding('gardens', (request) => readForm(gardenForm(request.member.group.areaUnit), request.body), saveGarden)
  adding(
    'beds',
    (request) => readForm(bedsForm(request.member.group.areaUnit), request.body),
    async (tx, author, given) => {
      // Beds without a day have been there from the first: a closed season would gain their ground.
      const closed = given.thereSince === null ? await closedOn(tx, author.groupId, given.gardenId) : null
      if (closed !== null) return { thereSince: wordsHere().timeline.ground.sinceAsked(closed) }
      await saveBeds(tx, author, given)
    },
  )
}

async function show(request: FastifyRequest, reply: FastifyReply, state: FormState | null) {
  const { group, role } = request.member
  const rows = await request.read(async (tx) => ({
    sites: await sitesOf(tx, group.id),
    blocks: await blocksOf(tx, group.id),
    methods: await methodsOf(tx, group.id),
    gardens: await gardensOf(tx, group.id),
    beds: await bedsOf(tx, group.id),
  }))
  const ids = { sites: newId(), blocks: newId(), methods: newId(), gardens: newId(), beds: newId() }
  const page = {
    ...gardensPage(
      rows,
      { locale: group.locale, today: dayIn(group.timeZone, new Date()) },
      state,
      ids,
      words().firstBedName,
    ),
    mayChange: role === 'keeper',
    asked: formAsked(request),
  }
  return reply.page('gardens/gardens', page, { title: words().title, status: state ? 422 : 200 })
}
