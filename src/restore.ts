import { restoreBackup } from "./db/restore-backup.js";
import { runUpkeep } from "./db/upkeep.js";

await runUpkeep("restore", restoreBackup, "restored from");
