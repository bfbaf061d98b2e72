// Made by `npm run types` from docs/openapi.json.
// biome-ignore lint/complexity/noBannedTypes: an API without paths
export type paths = {};
