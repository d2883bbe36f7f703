// A report is long on a phone: there its parts begin shut, each opens where it is asked for, and all of them for the
// printer.
{
  const parts = [...document.querySelectorAll('details.part')]
  const phone = window.matchMedia('(max-width: 42rem)')
  const openAll = () => {
    for (const part of parts) part.open = true
  }
  const shutAll = () => {
    for (const part of parts) part.open = location.hash === `#${part.id}`
  }
  const openAsked = () => {
    const asked = parts.find((part) => location.hash === `#${part.id}`)
    if (!asked) return
    asked.open = true
    asked.scrollIntoView()
  }
  if (parts.length > 0) {
    if (phone.matches) shutAll()
    phone.addEventListener('change', () => (phone.matches ? shutAll() : openAll()))
    window.addEventListener('hashchange', openAsked)
    window.addEventListener('beforeprint', openAll)
  }
}
