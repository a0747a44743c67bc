import { z } from "zod";
import { insertChange } from "../../db/audit.js";
import type { Db } from "../../db/client.js";
import { transact } from "../../db/transact.js";
import { makeKey } from "../../http/key-ring.js";
import { findKeyByName, insertKey, listKeys, revokeKey } from "./queries.js";
import { KeyCreate } from "./schemas.js";

const usage = `usage:
  npm run key -- add <uploader|operator|engineer|admin> <name>
  npm run key -- list
  npm run key -- revoke <name>`;

/**
 * Keys by the command line, for whoever can reach the database anyway; what is to be printed comes back.
 * @throws {Error} saying what to type instead
 */
export async function runKeyCommand(db: Db, words: readonly string[]): Promise<string> {
  const [command, ...rest] = words;
  if (command === "add" && rest.length >= 2) return add(db, rest[0]!, rest.slice(1).join(" "));
  if (command === "list" && rest.length === 0) return list(db);
  if (command === "revoke" && rest.length >= 1) return revoke(db, rest.join(" "));
  throw new Error(usage);
}

async function add(db: Db, role: string, name: string): Promise<string> {
  const asked = KeyCreate.safeParse({ role, name });
  if (!asked.success) throw new Error(`${z.prettifyError(asked.error)}\n${usage}`);
  const { key, ...kept } = makeKey();
  await transact(db, async (trx) => {
    const row = await insertKey(trx, { ...asked.data, ...kept, created_by: null });
    if (!row) throw new Error(`There is, or was, a key named "${name}": choose another name.`);
    await insertChange(trx, change("createKey", row.key_id, asked.data));
  });
  return `${key}\nThis is the only time that it is shown. From now on the service asks everybody for a key.`;
}

async function list(db: Db): Promise<string> {
  const lines: string[] = [];
  const limit = 500;
  for (let after = "0"; ; ) {
    const rows = await listKeys(db, { after, limit });
    for (const { prefix, role, name, last_used_at, revoked_at } of rows) {
      const use = last_used_at === null ? "never used" : `last used ${last_used_at}`;
      lines.push(
        `onsize_${prefix}…  ${role}  ${name}  ${use}${revoked_at === null ? "" : `, revoked ${revoked_at}`}`,
      );
    }
    if (rows.length < limit) break;
    after = rows.at(-1)!.key_id;
  }
  return lines.length > 0 ? lines.join("\n") : "No key has been made.";
}

async function revoke(db: Db, name: string): Promise<string> {
  await transact(db, async (trx) => {
    const row = await findKeyByName(trx, name);
    if (!row) throw new Error(`There is no key named "${name}": npm run key -- list shows them.`);
    await revokeKey(trx, row.key_id, null);
    await insertChange(trx, change("revokeKey", row.key_id, null));
  });
  return `The key "${name}" is revoked; a running service takes it for five more seconds at most.`;
}

function change(operation: string, keyId: string, request: unknown) {
  return { operation, keyName: null, entities: { key_id: keyId }, request, requestId: null };
}
