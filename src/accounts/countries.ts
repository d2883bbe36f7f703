/**
 * What a country decides for a group that starts there: its currency and where its clocks are.
 * Source: Unicode CLDR 48.2, supplemental data: currencyData (legal tender in 2026), primaryZones and the time zones of
 * each territory; codes of ISO 3166-1 and ISO 4217. Where all zones of a country keep the same time, one stands for it;
 * where CLDR names a primary zone, that; elsewhere all of them, and the group says which is its own.
 */
interface Country {
  readonly code: string
  readonly currency: string
  readonly timeZones: readonly string[]
}

const table = `
AD EUR Europe/Andorra; AE AED Asia/Dubai; AF AFN Asia/Kabul; AG XCD America/Antigua; AI XCD America/Anguilla;
AL ALL Europe/Tirane; AM AMD Asia/Yerevan; AO AOA Africa/Luanda; AR ARS America/Buenos_Aires;
AS USD Pacific/Pago_Pago; AT EUR Europe/Vienna;
AU AUD Antarctica/Macquarie Australia/Adelaide Australia/Brisbane Australia/Broken_Hill Australia/Darwin
  Australia/Eucla Australia/Hobart Australia/Lindeman Australia/Lord_Howe Australia/Melbourne
  Australia/Perth Australia/Sydney; AW AWG America/Aruba; AX EUR Europe/Mariehamn; AZ AZN Asia/Baku;
BA BAM Europe/Sarajevo; BB BBD America/Barbados; BD BDT Asia/Dhaka; BE EUR Europe/Brussels;
BF XOF Africa/Ouagadougou; BG EUR Europe/Sofia; BH BHD Asia/Bahrain; BI BIF Africa/Bujumbura;
BJ XOF Africa/Porto-Novo; BL EUR America/St_Barthelemy; BM BMD Atlantic/Bermuda; BN BND Asia/Brunei;
BO BOB America/La_Paz; BQ USD America/Kralendijk;
BR BRL America/Araguaina America/Bahia America/Belem America/Boa_Vista America/Campo_Grande America/Cuiaba
  America/Eirunepe America/Fortaleza America/Maceio America/Manaus America/Noronha America/Porto_Velho
  America/Recife America/Rio_Branco America/Santarem America/Sao_Paulo; BS BSD America/Nassau;
BT BTN Asia/Thimphu; BW BWP Africa/Gaborone; BY BYN Europe/Minsk; BZ BZD America/Belize;
CA CAD America/Blanc-Sablon America/Cambridge_Bay America/Coral_Harbour America/Creston America/Dawson
  America/Dawson_Creek America/Edmonton America/Fort_Nelson America/Glace_Bay America/Goose_Bay
  America/Halifax America/Inuvik America/Iqaluit America/Moncton America/Rankin_Inlet America/Regina
  America/Resolute America/St_Johns America/Swift_Current America/Toronto America/Vancouver
  America/Whitehorse America/Winnipeg; CC AUD Indian/Cocos; CD CDF Africa/Kinshasa Africa/Lubumbashi;
CF XAF Africa/Bangui; CG XAF Africa/Brazzaville; CH CHF Europe/Zurich; CI XOF Africa/Abidjan;
CK NZD Pacific/Rarotonga; CL CLP America/Santiago; CM XAF Africa/Douala; CN CNY Asia/Shanghai;
CO COP America/Bogota; CR CRC America/Costa_Rica; CU CUP America/Havana; CV CVE Atlantic/Cape_Verde;
CW XCG America/Curacao; CX AUD Indian/Christmas; CY EUR Asia/Nicosia; CZ CZK Europe/Prague;
DE EUR Europe/Berlin; DJ DJF Africa/Djibouti; DK DKK Europe/Copenhagen; DM XCD America/Dominica;
DO DOP America/Santo_Domingo; DZ DZD Africa/Algiers; EC USD America/Guayaquil; EE EUR Europe/Tallinn;
EG EGP Africa/Cairo; EH MAD Africa/El_Aaiun; ER ERN Africa/Asmera; ES EUR Europe/Madrid;
ET ETB Africa/Addis_Ababa; FI EUR Europe/Helsinki; FJ FJD Pacific/Fiji; FK FKP Atlantic/Stanley;
FM USD Pacific/Kosrae Pacific/Ponape Pacific/Truk; FO DKK Atlantic/Faeroe; FR EUR Europe/Paris;
GA XAF Africa/Libreville; GB GBP Europe/London; GD XCD America/Grenada; GE GEL Asia/Tbilisi;
GF EUR America/Cayenne; GG GBP Europe/Guernsey; GH GHS Africa/Accra; GI GIP Europe/Gibraltar;
GL DKK America/Danmarkshavn America/Godthab America/Scoresbysund America/Thule; GM GMD Africa/Banjul;
GN GNF Africa/Conakry; GP EUR America/Guadeloupe; GQ XAF Africa/Malabo; GR EUR Europe/Athens;
GS GBP Atlantic/South_Georgia; GT GTQ America/Guatemala; GU USD Pacific/Guam; GW XOF Africa/Bissau;
GY GYD America/Guyana; HK HKD Asia/Hong_Kong; HN HNL America/Tegucigalpa; HR EUR Europe/Zagreb;
HT HTG America/Port-au-Prince; HU HUF Europe/Budapest;
ID IDR Asia/Jakarta Asia/Jayapura Asia/Makassar Asia/Pontianak; IE EUR Europe/Dublin; IL ILS Asia/Jerusalem;
IM GBP Europe/Isle_of_Man; IN INR Asia/Calcutta; IO USD Indian/Chagos; IQ IQD Asia/Baghdad;
IR IRR Asia/Tehran; IS ISK Atlantic/Reykjavik; IT EUR Europe/Rome; JE GBP Europe/Jersey;
JM JMD America/Jamaica; JO JOD Asia/Amman; JP JPY Asia/Tokyo; KE KES Africa/Nairobi; KG KGS Asia/Bishkek;
KH KHR Asia/Phnom_Penh; KI AUD Pacific/Enderbury Pacific/Kiritimati Pacific/Tarawa; KM KMF Indian/Comoro;
KN XCD America/St_Kitts; KP KPW Asia/Pyongyang; KR KRW Asia/Seoul; KW KWD Asia/Kuwait; KY KYD America/Cayman;
KZ KZT Asia/Almaty; LA LAK Asia/Vientiane; LB LBP Asia/Beirut; LC XCD America/St_Lucia; LI CHF Europe/Vaduz;
LK LKR Asia/Colombo; LR LRD Africa/Monrovia; LS ZAR Africa/Maseru; LT EUR Europe/Vilnius;
LU EUR Europe/Luxembourg; LV EUR Europe/Riga; LY LYD Africa/Tripoli; MA MAD Africa/Casablanca;
MC EUR Europe/Monaco; MD MDL Europe/Chisinau; ME EUR Europe/Podgorica; MF EUR America/Marigot;
MG MGA Indian/Antananarivo; MH USD Pacific/Majuro; MK MKD Europe/Skopje; ML XOF Africa/Bamako;
MM MMK Asia/Rangoon; MN MNT Asia/Hovd Asia/Ulaanbaatar; MO MOP Asia/Macau; MP USD Pacific/Saipan;
MQ EUR America/Martinique; MR MRU Africa/Nouakchott; MS XCD America/Montserrat; MT EUR Europe/Malta;
MU MUR Indian/Mauritius; MV MVR Indian/Maldives; MW MWK Africa/Blantyre;
MX MXN America/Bahia_Banderas America/Cancun America/Chihuahua America/Ciudad_Juarez America/Hermosillo
  America/Matamoros America/Mazatlan America/Merida America/Mexico_City America/Monterrey America/Ojinaga
  America/Tijuana; MY MYR Asia/Kuala_Lumpur; MZ MZN Africa/Maputo; NA NAD Africa/Windhoek;
NC XPF Pacific/Noumea; NE XOF Africa/Niamey; NF AUD Pacific/Norfolk; NG NGN Africa/Lagos;
NI NIO America/Managua; NL EUR Europe/Amsterdam; NO NOK Europe/Oslo; NP NPR Asia/Katmandu;
NR AUD Pacific/Nauru; NU NZD Pacific/Niue; NZ NZD Pacific/Auckland; OM OMR Asia/Muscat;
PA PAB America/Panama; PE PEN America/Lima; PF XPF Pacific/Gambier Pacific/Marquesas Pacific/Tahiti;
PG PGK Pacific/Bougainville Pacific/Port_Moresby; PH PHP Asia/Manila; PK PKR Asia/Karachi;
PL PLN Europe/Warsaw; PM EUR America/Miquelon; PN NZD Pacific/Pitcairn; PR USD America/Puerto_Rico;
PS ILS Asia/Hebron; PT EUR Europe/Lisbon; PW USD Pacific/Palau; PY PYG America/Asuncion; QA QAR Asia/Qatar;
RE EUR Indian/Reunion; RO RON Europe/Bucharest; RS RSD Europe/Belgrade;
RU RUB Asia/Anadyr Asia/Barnaul Asia/Chita Asia/Irkutsk Asia/Kamchatka Asia/Khandyga Asia/Krasnoyarsk
  Asia/Magadan Asia/Novokuznetsk Asia/Novosibirsk Asia/Omsk Asia/Sakhalin Asia/Srednekolymsk Asia/Tomsk
  Asia/Ust-Nera Asia/Vladivostok Asia/Yakutsk Asia/Yekaterinburg Europe/Astrakhan Europe/Kaliningrad
  Europe/Kirov Europe/Moscow Europe/Samara Europe/Saratov Europe/Ulyanovsk Europe/Volgograd;
RW RWF Africa/Kigali; SA SAR Asia/Riyadh; SB SBD Pacific/Guadalcanal; SC SCR Indian/Mahe;
SD SDG Africa/Khartoum; SE SEK Europe/Stockholm; SG SGD Asia/Singapore; SH SHP Atlantic/St_Helena;
SI EUR Europe/Ljubljana; SJ NOK Arctic/Longyearbyen; SK EUR Europe/Bratislava; SL SLE Africa/Freetown;
SM EUR Europe/San_Marino; SN XOF Africa/Dakar; SO SOS Africa/Mogadishu; SR SRD America/Paramaribo;
SS SSP Africa/Juba; ST STN Africa/Sao_Tome; SV USD America/El_Salvador; SX XCG America/Lower_Princes;
SY SYP Asia/Damascus; SZ SZL Africa/Mbabane; TC USD America/Grand_Turk; TD XAF Africa/Ndjamena;
TF EUR Indian/Kerguelen; TG XOF Africa/Lome; TH THB Asia/Bangkok; TJ TJS Asia/Dushanbe;
TK NZD Pacific/Fakaofo; TL USD Asia/Dili; TM TMT Asia/Ashgabat; TN TND Africa/Tunis;
TO TOP Pacific/Tongatapu; TR TRY Europe/Istanbul; TT TTD America/Port_of_Spain; TV AUD Pacific/Funafuti;
TW TWD Asia/Taipei; TZ TZS Africa/Dar_es_Salaam; UA UAH Europe/Kiev; UG UGX Africa/Kampala;
UM USD Pacific/Midway Pacific/Wake;
US USD America/Adak America/Anchorage America/Boise America/Chicago America/Denver America/Detroit
  America/Indiana/Knox America/Indiana/Marengo America/Indiana/Petersburg America/Indiana/Tell_City
  America/Indiana/Vevay America/Indiana/Vincennes America/Indiana/Winamac America/Indianapolis
  America/Juneau America/Kentucky/Monticello America/Los_Angeles America/Louisville America/Menominee
  America/Metlakatla America/New_York America/Nome America/North_Dakota/Beulah America/North_Dakota/Center
  America/North_Dakota/New_Salem America/Phoenix America/Sitka America/Yakutat Pacific/Honolulu;
UY UYU America/Montevideo; UZ UZS Asia/Tashkent; VA EUR Europe/Vatican; VC XCD America/St_Vincent;
VE VES America/Caracas; VG USD America/Tortola; VI USD America/St_Thomas; VN VND Asia/Saigon;
VU VUV Pacific/Efate; WF XPF Pacific/Wallis; WS WST Pacific/Apia; YE YER Asia/Aden; YT EUR Indian/Mayotte;
ZA ZAR Africa/Johannesburg; ZM ZMW Africa/Lusaka; ZW ZWG Africa/Harare
`

const byCode: ReadonlyMap<string, Country> = new Map(
  table
    .trim()
    .split(';')
    .map((line): [string, Country] => {
      const [code = '', currency = '', ...timeZones] = line.trim().split(/\s+/)
      return [code, { code, currency, timeZones }]
    }),
)

export const countries: readonly Country[] = [...byCode.values()]

export const countryOf = (code: string): Country | undefined => byCode.get(code)

/**
 * The likeliest way of writing numbers and dates in a country (CLDR's likely subtags, as the runtime carries them); in
 * English where the runtime has no way of writing in that language.
 */
export function localeOf(code: string): string {
  const likely = `${new Intl.Locale(`und-${code}`).maximize().language}-${code}`
  return Intl.NumberFormat.supportedLocalesOf(likely).length === 1 ? likely : `en-${code}`
}

/** Pounds and square feet where CLDR's measurement system of the territory is the US one. */
export const unitsOf = (code: string): { weightUnit: 'kg' | 'lb'; areaUnit: 'm2' | 'ft2' } =>
  ['US', 'LR'].includes(code) ? { weightUnit: 'lb', areaUnit: 'ft2' } : { weightUnit: 'kg', areaUnit: 'm2' }
