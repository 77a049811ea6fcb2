/** Version of the package, put in at build time. */
declare const BILAT_VERSION: string;
