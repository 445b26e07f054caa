/** `1 row`, `12 rows`; where the plural takes more than an s it is given. */
export const inWords = (count: number, one: string, many = `${one}s`): string =>
  `${count.toLocaleString("en")} ${count === 1 ? one : many}`;
