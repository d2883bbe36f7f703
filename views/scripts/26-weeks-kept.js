// Weeks as they were last seen, so that they open without a signal: this one, the one before and the one after.
{
  const hour = 3_600_000
  const mostWeeks = 12

  const asKept = (html) => {
    const page = new DOMParser().parseFromString(html, 'text/html')
    const form = page.getElementById('week')
    if (!form) return null
    for (const gone of page.querySelectorAll('.notice, .visiting, .errors, .skip, .group-menu form')) gone.remove()
    for (const token of page.querySelectorAll('[name="_csrf"]')) token.setAttribute('value', '')
    const { lang, dir } = page.documentElement
    return { html: page.body.innerHTML, title: page.title, lang, dir, person: form.dataset.person }
  }

  const keepWeeks = async (form) => {
    const { person, group, week } = form.dataset
    const fresh = document.querySelector('.notice') !== null
    const near = [...document.querySelectorAll('.week-ways a[rel]')].map((link) => link.pathname.split('/').pop())
    for (const one of [week, ...near]) {
      const known = await kept.week({ person, group, week: one })
      if (known && Date.now() - known.at < hour && !(fresh && one === week)) continue
      const answer = await fetch(`/g/${group}/weeks/${one}?rows=all`, { headers: { accept: 'text/html' } })
      const page = answer.ok ? asKept(await answer.text()) : null
      const ahead = Date.parse(answer.headers.get('date') ?? '') - Date.now()
      // How far the clock of this device is off, where it is off by more than the way takes.
      const off = Math.abs(ahead) > 300_000 ? ahead : 0
      if (page?.person === person) await kept.keepWeek({ ...page, person, group, week: one, at: Date.now(), off })
    }
    await kept.keepOnly(person, mostWeeks)
  }

  const open = async (place) => {
    const person = kept.person()
    const books = JSON.parse(place.dataset.said)
    const tell = (what, weeks = []) => {
      // In the language of the weeks that are kept here, or of the browser.
      const languages = [...weeks.map((one) => one.lang), ...navigator.languages]
      const language = languages.find((one) => one.split('-')[0] in books) ?? 'en'
      const book = books[language.split('-')[0]]
      document.documentElement.lang = language
      document.title = book.title
      document.querySelector('#kept-week h1').textContent = book.title
      document.getElementById('kept-say').textContent = book[what]
      const lines = weeks.map((one) => {
        const line = document.createElement('li')
        const link = document.createElement('a')
        link.href = `/g/${one.group}/weeks/${one.week}`
        link.textContent = one.title
        line.append(link)
        return line
      })
      document.getElementById('kept-list').replaceChildren(...lines)
    }
    window.addEventListener('online', () => location.reload())
    if (!person) return tell('nobody')
    const weeks = (await kept.weeks(person)).sort((a, b) => (a.week < b.week ? -1 : 1))
    const [, group, week] = /^\/g\/([^/]+)\/weeks(?:\/(\d{4}-W\d\d))?$/.exec(location.pathname) ?? []
    const ofGroup = weeks.filter((one) => !group || one.group === group)
    const found = week && ofGroup.find((one) => one.week === week)
    if (!found) return tell(ofGroup.length > 0 ? 'weeksKept' : 'noWeek', ofGroup)
    Object.assign(document.documentElement, { lang: found.lang, dir: found.dir })
    document.title = found.title
    const page = new DOMParser().parseFromString(found.html, 'text/html')
    document.body.replaceChildren(...page.body.childNodes)
    const form = document.getElementById('week')
    form.elements.namedItem('id').value = kept.newId()
    // The day that it is now in the group's place, not the day on which the page was seen.
    const day = form.elements.namedItem('day')
    const now = Date.now() + (found.off ?? 0)
    if (day) day.value = new Intl.DateTimeFormat('en-CA', { timeZone: form.dataset.zone }).format(now)
    if (day && day.selectedIndex < 0) day.selectedIndex = 0
    quicken(form)
    const here = new URLSearchParams(location.search).get('garden')
    if (here) document.querySelector(`.week-gardens a[data-garden="${CSS.escape(here)}"]`)?.click()
    keepSheet(form, { shell: found })
  }

  const form = document.getElementById('week')
  const place = document.getElementById('kept-week')
  if (place) void open(place)
  if (form?.dataset.person) {
    keepSheet(form, { shell: null })
    // Only where the page can be opened from here without a signal.
    if (navigator.serviceWorker) {
      const worker = navigator.serviceWorker.register('/week-worker.js')
      window.addEventListener('load', () => void worker.then(() => keepWeeks(form)).catch(() => undefined))
    }
  }

  // On whatever page: a group that somebody was taken out of may not be opened again.
  const someone = kept.person()
  if (someone && !place && window.indexedDB) void sending.forgetGone(someone).catch(() => undefined)

  // Who signs out with something unsent is asked; the weeks as they were seen go, what was typed stays for its writer.
  for (const out of document.querySelectorAll('form[action="/sign-out"]')) {
    out.addEventListener('submit', async (event) => {
      if (out.dataset.asked) return
      event.preventDefault()
      event.stopPropagation()
      const person = kept.person()
      const waiting = await kept.waiting(person).catch(() => [])
      if (waiting.length > 0 && !confirm(out.dataset.ask.replace('{count}', waiting.length))) return
      await kept.forgetWeeks(person).catch(() => undefined)
      out.dataset.asked = 'yes'
      out.submit()
    })
  }
}
