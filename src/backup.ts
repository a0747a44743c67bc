import { runUpkeep } from "./db/upkeep.js";
import { writeBackup } from "./db/write-backup.js";

await runUpkeep("backup", writeBackup, "written to");
