/** The version a report names; a test holds it equal to the package's own. */
export const VERSION = '0.1.0';

/** Names the shape of the JSON report; the schema is in the package under this file name. */
export const SCHEMA_ID = 'dryfit-report-1.schema.json';
