// What was typed on this device, by person and group: sheets that wait to be sent, half-typed ones, and weeks as last seen.
const kept = (() => {
  let opening
  const open = () => {
    opening ??= new Promise((done, failed) => {
      const asked = indexedDB.open('evenground', 1)
      asked.onupgradeneeded = () => {
        asked.result.createObjectStore('waiting', { keyPath: 'place', autoIncrement: true })
        for (const store of ['drafts', 'weeks'])
          asked.result.createObjectStore(store, { keyPath: ['person', 'group', 'week'] })
      }
      asked.onsuccess = () => done(asked.result)
      asked.onerror = () => failed(asked.error)
    })
    return opening
  }
  // On the disk before it is called kept: a phone may be switched off the moment after.
  const within = async (stores, mode, work) => {
    const database = await open()
    return new Promise((done, failed) => {
      const step = database.transaction(stores, mode, { durability: 'strict' })
      const asked = work((name) => step.objectStore(name))
      step.oncomplete = () => done(asked?.result)
      step.onerror = () => failed(step.error)
      step.onabort = () => failed(step.error)
    })
  }
  const read = (store, ask) => within([store], 'readonly', (at) => ask(at(store)))
  const write = (store, ask) => within([store], 'readwrite', (at) => ask(at(store)))
  const keyOf = ({ person, group, week }) => [person, group, week]
  const own = (rows, person) => rows.filter((one) => one.person === person)

  return {
    // Whose session it is; empty where nobody is signed in.
    person: () => /(?:^|; )evenground-person=([0-9a-f-]+)/.exec(document.cookie)?.[1] ?? '',
    waiting: async (person) =>
      own(await read('waiting', (all) => all.getAll()), person).sort((a, b) => a.place - b.place),
    // A sheet that is sent is no longer half typed: both at once.
    wait: (sheet) =>
      within(['waiting', 'drafts'], 'readwrite', (at) => {
        at('drafts').delete(keyOf(sheet))
        return at('waiting').add(sheet)
      }),
    change: (sheet) => write('waiting', (all) => all.put(sheet)),
    drop: (sheet) => write('waiting', (all) => all.delete(sheet.place)),
    // The other way round: what was not taken is half typed again.
    backToDraft: (sheet, draft) =>
      within(['waiting', 'drafts'], 'readwrite', (at) => {
        at('waiting').delete(sheet.place)
        return at('drafts').put(draft)
      }),
    draft: (of) => read('drafts', (all) => all.get(keyOf(of))),
    keepDraft: (draft) => write('drafts', (all) => all.put(draft)),
    dropDraft: (of) => write('drafts', (all) => all.delete(keyOf(of))),
    week: (of) => read('weeks', (all) => all.get(keyOf(of))),
    weeks: async (person) => own(await read('weeks', (all) => all.getAll()), person),
    keepWeek: (week) => write('weeks', (all) => all.put(week)),
    // The newest of one person; of whoever was signed in here before, none.
    keepOnly: async (person, most) => {
      const all = (await read('weeks', (weeks) => weeks.getAll())).sort((a, b) => b.at - a.at)
      const stay = new Set(own(all, person).slice(0, most))
      await write('weeks', (weeks) => all.filter((one) => !stay.has(one)).map((one) => weeks.delete(keyOf(one)))[0])
    },
    // Of one group, or of all.
    forgetWeeks: async (person, group) => {
      const all = own(await read('weeks', (weeks) => weeks.getAll()), person)
      const weeks = all.filter((one) => !group || one.group === group)
      await write('weeks', (all) => weeks.map((one) => all.delete(keyOf(one)))[0])
    },
    // Milliseconds first, as the server makes them.
    newId: () => {
      const bytes = crypto.getRandomValues(new Uint8Array(16))
      const hex = [...bytes].map((one) => one.toString(16).padStart(2, '0')).join('')
      const now = Date.now().toString(16).padStart(12, '0')
      return `${now.slice(0, 8)}-${now.slice(8)}-7${hex.slice(13, 16)}-8${hex.slice(17, 20)}-${hex.slice(20)}`
    },
  }
})()
