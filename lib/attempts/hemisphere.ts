import type { Hemisphere } from '#lib/grafting/season.ts'

/** Time zones (IANA) south of the equator where fruit has seasons; a name ending in a slash stands for all below it. */
const southern = [
  'Africa/Blantyre',
  'Africa/Gaborone',
  'Africa/Harare',
  'Africa/Johannesburg',
  'Africa/Lusaka',
  'Africa/Maputo',
  'Africa/Maseru',
  'Africa/Mbabane',
  'Africa/Windhoek',
  'America/Argentina/',
  'America/Asuncion',
  'America/Bahia',
  'America/Buenos_Aires',
  'America/Campo_Grande',
  'America/Coyhaique',
  'America/Cuiaba',
  'America/La_Paz',
  'America/Lima',
  'America/Montevideo',
  'America/Punta_Arenas',
  'America/Santiago',
  'America/Sao_Paulo',
  'Antarctica/McMurdo',
  'Atlantic/Stanley',
  'Australia/',
  'Indian/Antananarivo',
  'Indian/Mauritius',
  'Indian/Reunion',
  'NZ',
  'Pacific/Auckland',
  'Pacific/Chatham',
  'Pacific/Easter',
  'Pacific/Fiji',
  'Pacific/Norfolk',
  'Pacific/Noumea',
] as const

/** In which half of the world, and hence in which half of the year, a group grafts; known by its time zone. */
export const hemisphereOf = (timeZone: string): Hemisphere =>
  southern.some((zone) => (zone.endsWith('/') ? timeZone.startsWith(zone) : timeZone === zone))
    ? 'south'
    : 'north'
