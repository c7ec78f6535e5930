// Every relation of the core as it is declared: what it takes, what it gives, and its source.
import relations from "../../generated/relations.json";

/** @type {import("./schema.js").Json[]} */
export const RELATIONS = relations;
