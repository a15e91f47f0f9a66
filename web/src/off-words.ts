/** "12 NM off", "on the route"; '' where nobody knows the place. */
export function offWords(fromRouteNm: number | null): string {
  if (fromRouteNm === null) return '';
  return fromRouteNm < 1 ? 'on the route' : `${Math.round(fromRouteNm)} NM off`;
}
