// The sheet of a week on this device: kept while it is typed, sent when it is saved or as soon as there is a signal.
function keepSheet(form, { shell }) {
  const { group, week, person } = form.dataset
  if (!person || !window.indexedDB) return
  const said = JSON.parse(form.dataset.kept)
  const put = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name])
  const block = document.getElementById('kept')
  const count = document.getElementById('kept-count')
  const of = { person, group, week }
  const time = (at) =>
    new Intl.DateTimeFormat(document.documentElement.lang, { dateStyle: 'medium', timeStyle: 'short' }).format(at)
  const make = (tag, text, more = {}) => Object.assign(document.createElement(tag), { textContent: text, ...more })
  const button = (text, work) => {
    const one = make('button', text, { type: 'button', className: 'quiet' })
    one.addEventListener('click', work)
    return one
  }

  const passed = ['_csrf', 'id', 'garden', 'to', 'find']
  const typed = () => [...new FormData(form)].filter(([name, value]) => !passed.includes(name) && value.trim() !== '')
  const says = (fields) => fields.filter(([name]) => !/^(day|who|source|to)$|\[unit\]$/.test(name))
  const cellsOf = (fields) => new Set(says(fields).map(([name]) => name.replace(/\[[^[\]]*\](\[\])?$/, ''))).size
  const idField = form.elements.namedItem('id')

  const drafting = { timer: 0, full: false }
  const keepDraft = async () => {
    clearTimeout(drafting.timer)
    const fields = typed()
    try {
      if (says(fields).length === 0) await kept.dropDraft(of)
      else await kept.keepDraft({ ...of, id: idField.value, fields, at: Date.now() })
    } catch {
      drafting.full = true
      await show()
    }
  }
  const soon = () => {
    clearTimeout(drafting.timer)
    drafting.timer = setTimeout(keepDraft, 200)
  }

  const putBack = (fields) => {
    for (const [name, value] of fields) {
      for (const field of [...form.elements].filter((one) => one.name === name)) {
        if (field.type === 'checkbox' || field.type === 'radio') field.checked ||= field.value === value
        // What was typed before this was read stands.
        else if (field.type !== 'text' || !field.value) field.value = value
        for (let fold = field.closest('details'); fold; fold = fold.parentElement.closest('details')) fold.open = true
      }
    }
    form.dispatchEvent(new Event('input', { bubbles: true }))
  }
  const clear = () => {
    for (const field of form.elements) {
      if (field.type === 'checkbox' || field.type === 'radio') field.checked = false
      else if (field.type === 'text') field.value = ''
      else if (field.tagName === 'SELECT' && field.name !== 'day') field.selectedIndex = 0
    }
    idField.value = kept.newId()
    form.dispatchEvent(new Event('input', { bubbles: true }))
  }

  const fileOf = (sheet) => {
    const { place: _place, ...told } = sheet
    const address = URL.createObjectURL(new Blob([JSON.stringify(told, null, 1)], { type: 'application/json' }))
    make('a', '', { href: address, download: `${sheet.group}-${sheet.week}.json` }).click()
    setTimeout(() => URL.revokeObjectURL(address), 60_000)
  }

  const lineOf = (sheet) => {
    const number = cellsOf(sheet.fields)
    const cells = number === 1 ? said.oneCell : put(said.manyCells, { count: number })
    const line = make('li', `${put(said.sheet, { week: sheet.week, cells, time: time(sheet.at) })}. `)
    if (sheet.group !== group) line.prepend(make('span', `${sheet.group}: `))
    if (sheet.refused) {
      const here = sheet.group === group && sheet.week === week
      for (const [cell, sentence] of sheet.refused) {
        const label = here && form.querySelector(`[name^="${CSS.escape(`${cell}[`)}"]`)?.getAttribute('aria-label')
        line.append(make('p', `${label || said.notTaken}: ${sentence}`, { className: 'wrong' }))
      }
      line.append(
        button(said.putBack, async () => {
          const before = await kept.draft(sheet)
          // Stored cells are gone from it, so that under a new id nothing is stored twice.
          const fields = [...(before?.fields ?? []), ...sheet.fields.filter(([, value]) => value !== 'came')]
          const draft = { person, group: sheet.group, week: sheet.week, id: kept.newId(), fields, at: Date.now() }
          await kept.backToDraft(sheet, draft)
          location.assign(`/g/${sheet.group}/weeks/${sheet.week}`)
        }),
        button(said.sendAgain, async () => {
          const { refused: _refused, ...again } = sheet
          await kept.change(again)
          await send()
        }),
        button(said.away, async () => {
          if (!confirm(said.awayAsk)) return
          await kept.drop(sheet)
          await show()
        }),
      )
    }
    line.append(button(said.file, () => fileOf(sheet)))
    return line
  }

  const figures = (waiting) => {
    for (const old of form.querySelectorAll('.kept-figure')) old.remove()
    for (const sheet of waiting.filter((one) => one.group === group && one.week === week)) {
      for (const [name, value] of says(sheet.fields)) {
        if (!/\[(good|time|h|m|bad)\]$/.test(name)) continue
        const figure = make('p', put(said.waitsHere, { figure: value }), { className: 'kept-figure rests' })
        form
          .querySelector(`[name="${CSS.escape(name)}"]`)
          ?.closest('.week-in')
          ?.before(figure)
      }
    }
  }

  let state = { signIn: false, proof: false, draft: null, seen: '' }
  const fiveDays = 5 * 86_400_000
  async function show() {
    const waiting = await kept.waiting(person).catch(() => [])
    const lines = []
    if (state.seen) lines.push(make('p', state.seen))
    if (!window.isSecureContext) lines.push(make('p', said.plain))
    if (drafting.full) lines.push(make('p', said.full))
    if (state.draft) {
      const line = make('p', `${put(said.draft, { time: time(state.draft) })} `)
      line.append(
        button(said.away, async () => {
          if (!confirm(said.awayAsk)) return
          clear()
          await kept.dropDraft(of)
          state.draft = null
          await show()
        }),
      )
      lines.push(line)
    }
    if (waiting.length > 0) {
      const many = waiting.length === 1 ? said.oneWaits : put(said.manyWait, { count: waiting.length })
      lines.push(make('p', `${many}. ${said.waitsWhy}`))
      if (state.signIn) {
        const line = make('p', `${said.signIn} `)
        const next = encodeURIComponent(location.pathname)
        line.append(make('a', said.signInLink, { href: `/sign-in?next=${next}` }))
        lines.push(line)
      }
      if (state.proof) {
        const line = make('p', `${said.proof} `)
        const next = encodeURIComponent(location.pathname)
        line.append(make('a', said.proofLink, { href: `/account/proof?next=${next}` }))
        lines.push(line)
      }
      if (waiting.some((one) => Date.now() - one.at > fiveDays)) lines.push(make('p', said.long))
      const list = make('ul', '')
      list.append(...waiting.map(lineOf))
      lines.push(list)
      if (count) count.textContent = many
    }
    if (count) count.hidden = waiting.length === 0
    block.hidden = lines.length === 0
    block.replaceChildren(...lines)
    figures(waiting)
  }

  // What was stored stands on the page when it is loaded anew; what is half typed is kept over that.
  const send = async (how = sending.all) => {
    const sent = await how(person)
    state = { ...state, ...sending.rests() }
    if (sent.some(({ kind }) => kind === 'other')) return location.assign('/')
    const stored = sent.some(({ kind, sheet }) => kind === 'stored' && sheet.group === group && sheet.week === week)
    if (stored || (shell && sent.some(({ kind }) => kind === 'stored'))) {
      await keepDraft()
      return location.reload()
    }
    await show()
  }

  const save = async (to) => {
    const sheet = { ...of, id: idField.value, fields: [...typed(), ...(to ? [['to', to]] : [])], at: Date.now() }
    if (says(sheet.fields).length === 0) return plainly(to)
    try {
      clearTimeout(drafting.timer)
      sheet.place = await kept.wait(sheet)
      void navigator.storage?.persist?.()
    } catch {
      return plainly(to)
    }
    // With a weak signal the answer takes its time: until then it is among what waits.
    const slow = setTimeout(show, 1500)
    const sent = await sending.all(person)
    clearTimeout(slow)
    const own = sent.find((one) => one.sheet.place === sheet.place)
    if (own?.kind === 'stored') return location.assign(own.onward)
    if (own?.kind === 'refused' && !shell) {
      // Sent again as a plain form, under the same ids: the page comes back with each sentence at its cell.
      await kept.backToDraft(sheet, { ...of, id: sheet.id, fields: sheet.fields, at: sheet.at })
      return plainly(to)
    }
    if (sent.some(({ kind }) => kind === 'other')) return location.assign('/')
    state = { ...state, ...sending.rests(), draft: null }
    clear()
    delete form.dataset.sent
    await show()
    const next = /^next:(.+)$/.exec(to)?.[1]
    if (next) document.querySelector(`.week-gardens a[data-garden="${CSS.escape(next)}"]`)?.click()
    block.scrollIntoView({ block: 'nearest' })
  }
  const plainly = (to) => {
    form.append(make('input', '', { type: 'hidden', name: 'to', value: to }))
    form.submit()
  }

  form.addEventListener('input', soon)
  form.addEventListener('change', soon)
  form.addEventListener('submit', (event) => {
    const to = event.submitter?.value ?? 'save'
    if (to === 'find') return
    event.preventDefault()
    if (!form.dataset.sent) void save(to)
  })
  window.addEventListener('online', () => {
    if (shell) state.seen = said.again
    void send()
  })
  const inView = async (how) => {
    if (document.visibilityState === 'visible' && (await kept.waiting(person)).some((one) => !one.refused))
      await send(how)
  }
  document.addEventListener('visibilitychange', () => void inView(sending.all))
  const retry = 30_000
  setInterval(() => void inView(sending.byClock), retry)

  const asServed = () =>
    !form.querySelector('[aria-invalid], .wrong') &&
    [...form.elements].every((one) => one.type !== 'text' || !one.value)
  const begin = async () => {
    const isFresh = asServed()
    const draft = await kept.draft(of)
    if (!isFresh) await keepDraft()
    else if (draft) {
      const names = new Set([...form.elements].map((one) => one.name))
      const rows = new URLSearchParams(location.search).get('rows')
      if (!shell && rows !== 'all' && draft.fields.some(([name]) => /^w\[/.test(name) && !names.has(name)))
        return location.replace(`${location.pathname}?rows=all`)
      idField.value = draft.id
      putBack(draft.fields)
      state.draft = draft.at
    }
    if (shell) state.seen = put(said.lastSeen, { time: time(shell.at) })
    await show()
    await send()
  }
  void begin().catch(() => {
    drafting.full = true
    return show()
  })
}
