export interface paths {
    "/healthz": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Say whether the process runs */
        get: operations["getHealth"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/readyz": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Say whether the service can work: whether it can write to its database, and is not about to stop */
        get: operations["getReadiness"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/machines": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the machines */
        get: operations["listMachines"];
        put?: never;
        /** Set up a machine */
        post: operations["createMachine"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/machines/{machine_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show one machine */
        get: operations["getMachine"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/machines/{machine_id}/registers": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the registers of a machine: its tools' and its work offsets */
        get: operations["listMachineRegisters"];
        put?: never;
        /**
         * Set up a work offset as a register of the machine
         * @description Features name it in `cut_by`, with `effect` or `plus_makes`. What is keyed into it later goes to POST /v1/registers/{register_id}/entries. Wear offsets are set up with their tool.
         */
        post: operations["createWorkOffset"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tools": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the tools, with their registers */
        get: operations["listTools"];
        put?: never;
        /** Set up a tool with its registers */
        post: operations["createTool"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tools/{tool_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show one tool with its registers */
        get: operations["getTool"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tool-proposals": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List what documents of machines propose for tools and registers */
        get: operations["listToolProposals"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tool-proposals/{proposal_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show a proposal for tools and registers */
        get: operations["getToolProposal"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tool-proposals/{proposal_id}/accept": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Accept changes of a proposal, each one chosen
         * @description All that is chosen is made, or nothing of it; the rest is let go. What has changed since the proposal was made is not overwritten. Sent again the same way it is answered as the first time.
         */
        post: operations["acceptToolProposal"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tool-proposals/{proposal_id}/decline": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Take nothing of a proposal */
        post: operations["declineToolProposal"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/machines/{machine_id}/tool-documents": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Read what a machine publishes of its tools and offsets, as a proposal
         * @description The body is the document as it is: MTConnect assets or streams of any version, one cutting tool, or an adapter's lines. Nothing is changed by it: the answer shows for each tool and register what would be created or changed, from what to what, for a person to accept. The same document sent again while it waits is the same proposal, brought up to date.
         */
        post: operations["createToolProposal"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/gauges": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the gauges */
        get: operations["listGauges"];
        put?: never;
        /** Set up a gauge */
        post: operations["createGauge"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/gauges/{gauge_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show one gauge */
        get: operations["getGauge"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        /**
         * Change what is known about a gauge, as after a calibration
         * @description Readings taken before keep the size and the verdict they were given.
         */
        patch: operations["updateGauge"];
        trace?: never;
    };
    "/v1/gauges/{gauge_id}/checks": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the checks of a gauge, the latest first; voided ones among them */
        get: operations["listGaugeChecks"];
        put?: never;
        /**
         * Enter what a gauge read on a standard; answers whether it is fit, and else what is in doubt
         * @description Readings between an earlier check and one that shows the gauge off are flagged `gauge_in_doubt`, and so are later ones until a good check, unless the error is taken off them. Readings that are off by more than a quarter of the way from target to limit steer no register any more.
         */
        post: operations["createGaugeCheck"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/gauges/{gauge_id}/checks/{gauge_check_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show a check of a gauge, and what it leaves in doubt now */
        get: operations["getGaugeCheck"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/gauges/{gauge_id}/checks/{gauge_check_id}/readings": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the readings that a check leaves in doubt, each judged again by the error found */
        get: operations["listDoubtedReadings"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/gauges/{gauge_id}/checks/{gauge_check_id}/void": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Take a check out of all that is decided
         * @description Doubts that rested on it are gone. Readings that its error was taken off keep their size and are in doubt where another check shows the gauge off against that.
         */
        post: operations["voidGaugeCheck"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/gauges/{gauge_id}/studies": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the studies of a gauge, the latest first; voided ones among them */
        get: operations["listGaugeStudies"];
        put?: never;
        /**
         * Enter a study of a gauge, all readings in one go; answers what it is good for
         * @description The gauge stays as it is until somebody accepts the study. Readings are sent as values, or named by `reading_id` where they are stored already.
         */
        post: operations["createGaugeStudy"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/gauges/{gauge_id}/studies/{gauge_study_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show a study of a gauge */
        get: operations["getGaugeStudy"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/gauges/{gauge_id}/studies/{gauge_study_id}/accept": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Give the gauge the repeatability that the study found
         * @description It counts for readings that come from then on; what was decided before stays.
         */
        post: operations["acceptGaugeStudy"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/gauges/{gauge_id}/studies/{gauge_study_id}/void": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Take a study out of what counts
         * @description Where it is the latest that was accepted and the gauge still has its repeatability, the gauge gets back the one from before.
         */
        post: operations["voidGaugeStudy"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/gauges/{gauge_id}/comparison": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Compare a gauge with another on the pieces that both have read
         * @description Mean difference and limits of agreement from stored readings, each gauge's as it was kept: with whatever had been taken off it then.
         */
        get: operations["compareGauges"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/materials": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the materials known by name, with their coefficients of expansion */
        get: operations["listMaterials"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/features/{feature_id}/gauges": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Rate the shop's gauges for a feature, the finest first
         * @description Only kinds of gauge that can be brought to such a feature. Whether one reaches it, only its name tells.
         */
        get: operations["listGaugesOfFeature"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the parts, without their features */
        get: operations["listParts"];
        put?: never;
        /** Set up a part with its features */
        post: operations["createPart"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts/trials": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Show what a part would be: limits, targets and which way offsets move it; nothing is kept
         * @description For who enters a drawing: the limits that a fit or general tolerance gives, and how far adding to an offset moves each feature, before the part is set up. What is wrong is answered as it is by POST /v1/parts, save that whether the revision exists is not looked up.
         */
        post: operations["tryPart"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts/{part_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show one part with its features */
        get: operations["getPart"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        /**
         * Say what a part is made of, how far it grows with heat, or how closely it is checked
         * @description Counts for readings and check plans from now on; readings taken before keep their size. All else only changes with a new revision.
         */
        patch: operations["updatePart"];
        trace?: never;
    };
    "/v1/features/{feature_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show one feature */
        get: operations["getFeature"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        /**
         * Change what cuts a feature, its gauges, target, importance, places, or where it lies
         * @description Limits, decision rule, kind and nominal size only change with a new revision of the part.
         */
        patch: operations["updateFeature"];
        trace?: never;
    };
    "/v1/part-proposals": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List what documents propose as parts */
        get: operations["listPartProposals"];
        put?: never;
        /**
         * Read the part that a document of results or a plan describes, as a proposal
         * @description The body is a QIF document (ISO 23952) as it is, with or without results; or, with a layout, any file that the layout reads (DMIS output, a table, a log) and that says nominal sizes and limits beside its values, or without values. Nothing is changed by it: the answer shows the features that its characteristics would make, for a person to accept, and what differs from the part where it is known already. The same document sent again while it waits is the same proposal.
         */
        post: operations["createPartProposal"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/part-proposals/{proposal_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show a proposed part, beside the one that is known now */
        get: operations["getPartProposal"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/part-proposals/{proposal_id}/accept": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Make the proposed part, with what the document leaves open
         * @description The whole part is made, or nothing. Nothing that the document leaves open is guessed: the kind of a diameter (outside or inside) has to be named, limits that it lacks given, or the feature left out.
         */
        post: operations["acceptPartProposal"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/part-proposals/{proposal_id}/decline": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Make no part of a proposal */
        post: operations["declinePartProposal"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the batches */
        get: operations["listBatches"];
        put?: never;
        /**
         * Open a batch on a machine
         * @description What the machine's registers hold and how far its edges have worn is taken over from the batches before.
         */
        post: operations["createBatch"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show one batch */
        get: operations["getBatch"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/close": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Close a batch */
        post: operations["closeBatch"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/count": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Say how far a batch has come */
        post: operations["countPieces"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/interruptions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the interruptions of a batch, voided ones among them */
        get: operations["listInterruptions"];
        put?: never;
        /** Enter an interruption of a batch */
        post: operations["createInterruption"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/interruptions/{interruption_id}/void": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Take an interruption out of all that is decided */
        post: operations["voidInterruption"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/registers/{register_id}/entries": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the entries of a register, voided ones among them */
        get: operations["listRegisterEntries"];
        put?: never;
        /**
         * Enter a value that was keyed into a register
         * @description For a change made without a correction. It counts in the batch named from the piece named on, and in the machine's other open batches too.
         */
        post: operations["createRegisterEntry"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/registers/{register_id}/entries/{entry_id}/void": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Take an entry of a register out of all that is decided
         * @description What was entered with it in the machine's other batches is voided too.
         */
        post: operations["voidRegisterEntry"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tools/{tool_id}/edges": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the edges of a tool, voided ones among them */
        get: operations["listEdges"];
        put?: never;
        /**
         * Enter a fresh edge of a tool
         * @description It counts in the batch named from the piece named on, and in the machine's other open batches too. Advice to change the tool is settled by it.
         */
        post: operations["createEdge"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tools/{tool_id}/edge-life": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** How long the edges of a tool last, by reason, and what life to plan with */
        get: operations["getEdgeLife"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tools/{tool_id}/edges/{edge_id}/void": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Take an edge of a tool out of all that is decided
         * @description The register values that were keyed with it are voided too. Only the latest edge can be voided.
         */
        post: operations["voidEdge"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/readings": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * List the readings of a batch, in the order they came, or those by a gauge, in the order they were taken
         * @description A voided reading still says what it said, with who voided it, when and why. The table is written as it is read: one that breaks off was not finished.
         */
        get: operations["listReadings"];
        put?: never;
        /** Take in one reading or many; answers verdicts, corrections and the next check */
        post: operations["createReadings"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/readings/{reading_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show one reading */
        get: operations["getReading"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/readings/{reading_id}/points": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show the points that a reading was worked out from, and evaluate them afresh */
        get: operations["getReadingPoints"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/readings/{reading_id}/void": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Take a reading out of all that is decided */
        post: operations["voidReading"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/log-layouts": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the layouts */
        get: operations["listLogLayouts"];
        put?: never;
        /** Describe how a text log or a table is read */
        post: operations["createLogLayout"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/log-layouts/{layout_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show one layout */
        get: operations["getLogLayout"];
        /**
         * Mend a layout
         * @description Readings that were taken in by it stay as they are; lines that it refused can be read again: POST /v1/imports/{import_id}/retry.
         */
        put: operations["replaceLogLayout"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/log-layouts/trials": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Show what a layout makes of a sample, line by line; nothing is kept */
        post: operations["tryLogLayout"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/readings/imports": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Read a file in: a text log, a table, JSON lines or a gauge's lines
         * @description The body is the file as it is, of any content type and length. Each reading is taken once, whatever file it comes in: a file sent again, grown or overlapping changes nothing but what is new. Lines that can't be read are kept and listed, the others are taken. With an Idempotency-Key a request that was cut off goes on where it was when it is sent again.
         */
        post: operations["createReadingImport"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/imports/{import_id}/content": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Read more of a file in: what was added to it, or the rest after a break
         * @description The body is the file's bytes from `offset` on. What lies before the import's next_offset is passed over, so that pieces may overlap and be sent again. A last line without its end is waited for: the answer's next_offset says where to go on.
         */
        post: operations["continueReadingImport"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/imports/{import_id}/retry": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Read the refused lines again, by the layout as it is now */
        post: operations["retryReadingImport"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/imports": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the imports */
        get: operations["listReadingImports"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/imports/{import_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show how far an import has come */
        get: operations["getReadingImport"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/imports/{import_id}/lines": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the lines of an import that gave no reading, with the reason */
        get: operations["listImportLines"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/imports/{import_id}/readings": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the readings of an import, what the file says of each beside what was decided */
        get: operations["listImportedReadings"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/corrections": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * List corrections: who changed what, when and why, what was promised and what was found
         * @description The table has a row for each feature that a correction moves, and one for a correction that moves none. It is written as it is read: one that breaks off was not finished.
         */
        get: operations["listCorrections"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/corrections/{correction_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Show one correction with its arithmetic and what it did */
        get: operations["getCorrection"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/corrections/{correction_id}/apply": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Say that a change was set at the control, from which piece on and to what value */
        post: operations["applyCorrection"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/corrections/{correction_id}/decline": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Say that advice is not followed, and why */
        post: operations["declineCorrection"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/corrections/{correction_id}/finding": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Say what was found when the advice was to find the cause */
        post: operations["answerFinding"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/corrections/{correction_id}/void": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Take back that a change was set */
        post: operations["voidCorrection"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tools/{tool_id}/wear": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What a tool's registers hold, how fast it wears and where a fresh edge should start */
        get: operations["getWear"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tools/{tool_id}/edges/{edge_id}/offsets": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What a tool's offsets held over the pieces of one edge, and what wear will ask of them
         * @description Values by the pieces that the edge had cut, over all its batches one after the other. Of each batch the latest 500 entries of a register.
         */
        get: operations["getEdgeOffsets"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/checks": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What to measure on a piece, and why; asking changes nothing */
        get: operations["getChecks"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/features/{feature_id}/interval": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** How often a feature is measured in a batch, and why */
        get: operations["getInterval"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/features/{feature_id}/chart": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * A control chart of a feature: points, limits, and what they say
         * @description Of each piece its first cut as it was read last. Centre lines are those of each phase, from one edge or correction to the next; spread and limits are pooled over the phases. For a process that wears and is corrected, `innovations` shows what the wear model did not foresee: a chart of the sizes would only find the wear.
         */
        get: operations["getChart"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/features/{feature_id}/capability": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Capability and performance of a feature, with confidence limits and what they rest on
         * @description Words of ISO 22514-2. `within` and `about_trend` speak of the machine, `overall` and `shipped` of the pieces. Indices carry no more decimals than the number of readings bears.
         */
        get: operations["getCapability"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/diagnosis": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Which cause fits best what was measured, with the evidence and the next thing to try; asking changes nothing
         * @description Tool size, wear, bending, a change keyed wrongly, work zero, a turned part, warmth, the gauge or a single feature: each is fitted to all that was measured on the pieces, weighed by its evidence, and named together with what the readings do not tell it from.
         */
        get: operations["getDiagnosis"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/tools/{tool_id}/edges/{edge_id}/pieces": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Which pieces were cut with an edge */
        get: operations["listEdgePieces"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/registers/{register_id}/pieces": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Which pieces were cut with what a register held */
        get: operations["listRegisterPieces"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/corrections/{correction_id}/pieces": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Which pieces were cut with the value that a correction set */
        get: operations["listCorrectionPieces"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/gauges/{gauge_id}/pieces": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Which pieces were measured with a gauge between two instants
         * @description GET /v1/readings with gauge_id and batch_id lists the readings themselves.
         */
        get: operations["listGaugePieces"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/holds": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Pieces in doubt, the readings that caused it, and what to measure next to release them */
        get: operations["listHolds"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/pieces/{piece}/decision": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Enter what is to become of a piece, and who decided it */
        post: operations["decidePiece"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/decisions": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the decisions about pieces of a batch, voided ones among them */
        get: operations["listDecisions"];
        put?: never;
        /** Enter what is to become of ranges of pieces, and who decided it */
        post: operations["decidePieces"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/decisions/{decision_id}/void": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Take back a decision about pieces */
        post: operations["voidDecision"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/pieces": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Pieces of a batch by feature, some at a time: what was measured, and how the rest is proved
         * @description The same answers as the page of each piece gives, without their readings: a table to look through, from any piece on.
         */
        get: operations["listPieces"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/pieces/{piece}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Everything that is known of one piece, and whether it may go out */
        get: operations["getPiece"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sampling-plans/single": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Single sampling plan by attributes for a lot, arrows followed */
        get: operations["getSinglePlan"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sampling-plans/zero-acceptance": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Smallest sample that guards against a quality and accepts nothing nonconforming */
        get: operations["getZeroAcceptancePlan"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sampling-plans/continuous": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Continuous plan CSP-1: any two of AOQL, clearance number and fraction give the third */
        get: operations["getContinuousPlan"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sampling-plans/operating-characteristic": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** How often a plan accepts which quality, as numbers for a chart */
        get: operations["getOperatingCharacteristic"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/sampling-plans/switching": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Which inspection is due after the lots so far: normal, tightened, reduced or none */
        get: operations["getSwitching"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts/{part_id}/outlook": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * What a new batch will take: start values, edges, readings, minutes, pieces in doubt
         * @description From the latest 20 batches of the part on this machine. What nobody knows is said, and not assumed; asking changes nothing.
         */
        get: operations["getOutlook"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/batches/{batch_id}/report": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The inspection report of a batch: to read, to print, for a spreadsheet or a program
         * @description Every piece with its results as they were measured, what was not measured and what proves it instead, gauges, offsets, holds and decisions. It is written as it is worked out: one that breaks off was not finished.
         */
        get: operations["getReport"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/first-articles": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List first articles, voided ones among them */
        get: operations["listFirstArticles"];
        put?: never;
        /**
         * Enter a first article: which piece it is, and what is to be said beyond what was measured
         * @description Results, limits and verdicts come from the readings. What it lacks is listed in the answer, never left out.
         */
        post: operations["createFirstArticle"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/first-articles/{first_article_id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * The first-article report, in the fields that SAE AS9102 asks for
         * @description The forms themselves are SAE's; whoever has to deliver on them needs the standard.
         */
        get: operations["getFirstArticle"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/first-articles/{first_article_id}/void": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /** Void a first article: it is kept, and counts no more */
        post: operations["voidFirstArticle"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/parts/{part_id}/first-article-due": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Whether a first article is due before parts are delivered, and why */
        get: operations["getFirstArticleDue"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/events": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Be told as soon as something changes
         * @description A stream of server-sent events (HTML, section 9.2) that goes on until the reader leaves. The event `changed` says in JSON which batches have
         *     changed, and whether anything else has: `{"batches":["3"],"shop":false}`. Its id stands for all that there is after it, in
         *     every replica alike: sent as `Last-Event-ID` after a lost connection, it tells whether anything was missed. What has changed is asked for
         *     as ever; an event never holds it.
         */
        get: operations["listenToChanges"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/keys": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** List the keys, without their secrets */
        get: operations["listKeys"];
        put?: never;
        /**
         * Make a key; it is shown this one time
         * @description From the first key on the service asks everybody for one.
         */
        post: operations["createKey"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/keys/{key_id}/revoke": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Take a key out of use for good
         * @description At once here, within five seconds on every other replica of the service.
         */
        post: operations["revokeKey"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/session": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Say who is signed in */
        get: operations["getSession"];
        put?: never;
        /** Sign a browser in with a key, kept in a cookie that scripts cannot read */
        post: operations["createSession"];
        /** Sign the browser out */
        delete: operations["deleteSession"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/v1/audit": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * List all changes: who made them, when, to what
         * @description Written in the same transaction as the change itself, and never changed or deleted. Readings are their own record: GET /v1/readings shows who took each, and with which key it came; their voiding is listed here.
         */
        get: operations["listChanges"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
}
export type webhooks = Record<string, never>;
export interface components {
    schemas: {
        /**
         * @description Pieces of one part that one machine cuts one after the other
         * @example {
         *       "batch_id": "3",
         *       "name": "B-118",
         *       "part_id": "8",
         *       "machine_id": "3",
         *       "operation": "20",
         *       "quantity": 200,
         *       "seats": [
         *         "A",
         *         "B"
         *       ],
         *       "last_piece_cut": 12,
         *       "created_at": "2026-03-02T06:40:00.000Z",
         *       "closed_at": null,
         *       "closed_by": null
         *     }
         */
        Batch: {
            /** @description Identity of the batch */
            batch_id: string;
            /** @description What the shop calls it */
            name: string;
            /** @description The part that is made, at one revision of its drawing */
            part_id: string;
            /** @description The machine that it runs on */
            machine_id: string;
            /** @description The operation that is run; null: every feature of the part counts */
            operation: string | null;
            /** @description How many pieces it has; null: not said */
            quantity: number | null;
            /** @description Places of the fixture that are cut in turn, in this order: of n seats piece k sits in seat (k − 1) mod n, unless a reading of it says another; empty: pieces are not told apart by their seat */
            seats: string[];
            /** @description Last piece known to be cut, by a reading or a count; 0: none yet */
            last_piece_cut: number;
            /**
             * Format: date-time
             * @description When it was opened
             */
            created_at: string;
            /** @description When it was closed; null: it is open */
            closed_at: string | null;
            /** @description Who closed it; null: open, or not said */
            closed_by: string | null;
        };
        /**
         * @description Closes a batch: nothing more is cut in it, and its open advice is withdrawn
         * @example {
         *       "by": "shift A"
         *     }
         */
        BatchClose: {
            /** @description Who closes it */
            by?: string | null;
        };
        /**
         * @description A batch to be opened: pieces of one part that one machine cuts one after the other
         * @example {
         *       "name": "B-118",
         *       "part_id": "8",
         *       "machine_id": "3",
         *       "operation": "20",
         *       "quantity": 200,
         *       "seats": [
         *         "A",
         *         "B"
         *       ]
         *     }
         */
        BatchCreate: {
            /** @description What the shop calls it, such as its order number; no other batch may have this name */
            name: string;
            /** @description The part that is made, at one revision of its drawing */
            part_id: string;
            /** @description The machine that it runs on */
            machine_id: string;
            /** @description The operation that is run: features of other operations are left out. Absent: every feature counts */
            operation?: string | null;
            /** @description How many pieces it has; absent: nobody knows yet */
            quantity?: number | null;
            /**
             * @description Places of the fixture that are cut in turn, in this order: of n seats piece k sits in seat (k − 1) mod n, unless a reading of it says another; none if absent
             * @default []
             */
            seats?: string[];
        };
        /** @description One page of a list */
        BatchList: {
            /** @description This page, oldest first */
            items: components["schemas"]["Batch"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description Capability and performance of one feature (ISO 22514-2)
         * @example {
         *       "feature_id": "1",
         *       "characteristic": "12",
         *       "batch_id": "1",
         *       "batch_ids": [
         *         "1"
         *       ],
         *       "unit": "mm",
         *       "lower_limit": 11.97,
         *       "upper_limit": 12.03,
         *       "target": 12,
         *       "pieces": 11,
         *       "enough": true,
         *       "confidence": 0.95,
         *       "within": {
         *         "mean": 12.004181818,
         *         "standard_deviation": 0.002570058,
         *         "degrees_of_freedom": 6,
         *         "cp": {
         *           "value": 3.9,
         *           "low": 1.8,
         *           "high": 6
         *         },
         *         "cpk": {
         *           "value": 3.3,
         *           "low": 1.5,
         *           "high": 5.2
         *         },
         *         "cpkl": 4.4,
         *         "cpku": 3.3
         *       },
         *       "overall": {
         *         "mean": 12.004181818,
         *         "standard_deviation": 0.001834022,
         *         "degrees_of_freedom": 10,
         *         "pp": {
         *           "value": 5.5,
         *           "low": 3.1,
         *           "high": 7.8
         *         },
         *         "ppk": {
         *           "value": 4.7,
         *           "low": 2.6,
         *           "high": 6.8
         *         },
         *         "ppkl": 6.2,
         *         "ppku": 4.7,
         *         "cpm": {
         *           "value": 2.2,
         *           "low": 1.7,
         *           "high": 2.7
         *         }
         *       },
         *       "about_trend": {
         *         "slope_per_piece": -0.000054545,
         *         "trending": false,
         *         "mean": 12,
         *         "standard_deviation": 0.001923801,
         *         "degrees_of_freedom": 9,
         *         "cp": {
         *           "value": 5.2,
         *           "low": 2.8,
         *           "high": 7.6
         *         },
         *         "cpk": {
         *           "value": 5.2,
         *           "low": 2.8,
         *           "high": 7.6
         *         },
         *         "cpkl": 5.2,
         *         "cpku": 5.2
         *       },
         *       "shipped": {
         *         "pieces": 11,
         *         "outside": 0,
         *         "mean": 12.004181818,
         *         "standard_deviation": 0.001834022,
         *         "degrees_of_freedom": 10,
         *         "pp": {
         *           "value": 5.5,
         *           "low": 3.1,
         *           "high": 7.8
         *         },
         *         "ppk": {
         *           "value": 4.7,
         *           "low": 2.6,
         *           "high": 6.8
         *         },
         *         "ppkl": 6.2,
         *         "ppku": 4.7,
         *         "cpm": {
         *           "value": 2.2,
         *           "low": 1.7,
         *           "high": 2.7
         *         }
         *       },
         *       "normality": {
         *         "statistic": 0.1467,
         *         "p": 0.97,
         *         "normal": true
         *       },
         *       "by_quantiles": null,
         *       "steady": true,
         *       "doubtful_pieces": [
         *         12
         *       ],
         *       "says": [
         *         "Ppk 4.7 (95 %: 2.6 to 6.8), all of it above 1.33, and steady: with a gauge that is fit you may measure less often, step by step.",
         *         "From piece to piece, between corrections, the spread is 0.0026 mm: Cpk 3.3 (95 %: 1.5 to 5.2), from moving ranges of two, worth 6 degrees of freedom (Cryer and Ryan 1990).",
         *         "As they left the machine: Ppk 4.7 (95 %: 2.6 to 6.8).",
         *         "Nothing speaks against a normal distribution (Anderson-Darling, p 0.97); that is no proof of one.",
         *         "Limits of Cp and Pp by chi-square, of Cpk and Ppk approximately (Bissell 1990), of Cpm approximately (Boyles 1991); all of them hold for normal readings of a process that stays as it is."
         *       ]
         *     }
         */
        Capability: {
            /** @description The feature */
            feature_id: string;
            /** @description Its balloon number */
            characteristic: string;
            /** @description The batch, or the latest of several */
            batch_id: string;
            /** @description All batches that count, oldest first */
            batch_ids: string[];
            /** @description Unit of sizes */
            unit: string;
            /** @description Lower limit of size; null: there is none */
            lower_limit: number | null;
            /** @description Upper limit of size; null: there is none */
            upper_limit: number | null;
            /** @description The aim */
            target: number;
            /** @description Pieces that were read, each as it was first cut */
            pieces: number;
            /** @description False: too few readings for any index */
            enough: boolean;
            /** @description Confidence of the limits, two-sided */
            confidence: number;
            /** @description Capability: spread from piece to piece, between corrections; null: too few neighbours, or no spread */
            within: {
                /** @description Mean size */
                mean: number;
                /** @description The spread that these indices go by */
                standard_deviation: number;
                /** @description What that spread is worth */
                degrees_of_freedom: number;
                /** @description Tolerance over six standard deviations; null: one limit is missing, or there are too few readings */
                cp: {
                    /** @description As many decimals as the number of readings bears */
                    value: number;
                    /** @description Lower confidence limit */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
                /** @description The nearer limit over three; null: there are too few readings */
                cpk: {
                    /** @description As many decimals as the number of readings bears */
                    value: number;
                    /** @description Lower confidence limit */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
                /** @description That of the lower limit; null: there is none, or too few readings */
                cpkl: number | null;
                /** @description That of the upper limit; null: there is none, or too few readings */
                cpku: number | null;
            } | null;
            /** @description Performance: the spread of all these readings together; null: no spread */
            overall: {
                /** @description Mean size */
                mean: number;
                /** @description The spread that these indices go by */
                standard_deviation: number;
                /** @description What that spread is worth */
                degrees_of_freedom: number;
                /** @description Tolerance over six standard deviations; null: one limit is missing, or there are too few readings */
                pp: {
                    /** @description As many decimals as the number of readings bears */
                    value: number;
                    /** @description Lower confidence limit */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
                /** @description The nearer limit over three; null: there are too few readings */
                ppk: {
                    /** @description As many decimals as the number of readings bears */
                    value: number;
                    /** @description Lower confidence limit */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
                /** @description That of the lower limit; null: there is none, or too few readings */
                ppkl: number | null;
                /** @description That of the upper limit; null: there is none, or too few readings */
                ppku: number | null;
                /** @description About the target; null: one limit is missing, or there are too few readings */
                cpm: {
                    /** @description As many decimals as the number of readings bears */
                    value: number;
                    /** @description Lower confidence limit */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
            } | null;
            /** @description Capability of the scatter about the wear, if it were corrected piece by piece; null: too few readings */
            about_trend: {
                /** @description How the size moves from piece to piece */
                slope_per_piece: number;
                /** @description True: more than chance explains, at 99.7 % */
                trending: boolean;
                /** @description Mean size */
                mean: number;
                /** @description The spread that these indices go by */
                standard_deviation: number;
                /** @description What that spread is worth */
                degrees_of_freedom: number;
                /** @description Tolerance over six standard deviations; null: one limit is missing, or there are too few readings */
                cp: {
                    /** @description As many decimals as the number of readings bears */
                    value: number;
                    /** @description Lower confidence limit */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
                /** @description The nearer limit over three; null: there are too few readings */
                cpk: {
                    /** @description As many decimals as the number of readings bears */
                    value: number;
                    /** @description Lower confidence limit */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
                /** @description That of the lower limit; null: there is none, or too few readings */
                cpkl: number | null;
                /** @description That of the upper limit; null: there is none, or too few readings */
                cpku: number | null;
            } | null;
            /** @description Performance of what was shipped; null: too few readings or no spread */
            shipped: {
                /** @description Pieces as they left the machine, without those scrapped or sent back */
                pieces: number;
                /** @description Of these, how many measured outside a limit */
                outside: number;
                /** @description Mean size */
                mean: number;
                /** @description The spread that these indices go by */
                standard_deviation: number;
                /** @description What that spread is worth */
                degrees_of_freedom: number;
                /** @description Tolerance over six standard deviations; null: one limit is missing, or there are too few readings */
                pp: {
                    /** @description As many decimals as the number of readings bears */
                    value: number;
                    /** @description Lower confidence limit */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
                /** @description The nearer limit over three; null: there are too few readings */
                ppk: {
                    /** @description As many decimals as the number of readings bears */
                    value: number;
                    /** @description Lower confidence limit */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
                /** @description That of the lower limit; null: there is none, or too few readings */
                ppkl: number | null;
                /** @description That of the upper limit; null: there is none, or too few readings */
                ppku: number | null;
                /** @description About the target; null: one limit is missing, or there are too few readings */
                cpm: {
                    /** @description As many decimals as the number of readings bears */
                    value: number;
                    /** @description Lower confidence limit */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
            } | null;
            /** @description Of what remains after wear and corrections; null: fewer than 8 readings, or all alike */
            normality: {
                /** @description Anderson-Darling, corrected for the sample */
                statistic: number;
                /** @description Chance of one as large where the readings are normal; an approximation */
                p: number;
                /** @description False: p is below 5 % */
                normal: boolean;
            } | null;
            /** @description Without a normal distribution; null: fewer readings than the quantiles need */
            by_quantiles: {
                /** @description Tolerance over the distance of the quantiles of 0.135 % and 99.865 % */
                pp: number | null;
                /** @description The nearer limit over the distance from the median to its quantile */
                ppk: number;
            } | null;
            /** @description True: no piece beyond the control limits of its phase */
            steady: boolean;
            /** @description Pieces whose reading surprised and was not confirmed by a repeat: said, but not counted */
            doubtful_pieces: number[];
            /** @description The answer in plain words, with methods and what they rest on */
            says: string[];
        };
        /**
         * @description One change: who made it, when, to what
         * @example {
         *       "audit_id": "271",
         *       "at": "2026-03-02T07:41:00.000Z",
         *       "key": "setter, shift A",
         *       "by": "shift A",
         *       "operation": "applyCorrection",
         *       "entities": {
         *         "correction_id": "31"
         *       },
         *       "request": {
         *         "by": "shift A"
         *       },
         *       "request_id": "0b0e4c0e-5a33-4b0e-8a53-6a0b5c0a2f11"
         *     }
         */
        Change: {
            /** @description Its number; later changes have larger ones */
            audit_id: string;
            /**
             * Format: date-time
             * @description When
             */
            at: string;
            /** @description Name of the key; null: none was asked for, or it was done at the command line */
            key: string | null;
            /** @description Who did it, as the request says; null: not said */
            by: string | null;
            /** @description What was done: the operation's name in the contract */
            operation: string;
            /** @description What it was done to and what came of it, such as batch_id */
            entities: {
                [key: string]: string;
            };
            /** @description What was sent; null: nothing, or a file. Of a very long one only its length */
            request: unknown;
            /** @description The request-id that the answer bore, as the log has it */
            request_id: string | null;
        };
        /** @description One page of a list */
        ChangeList: {
            /** @description This page, newest first */
            items: components["schemas"]["Change"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A control chart of one feature
         * @example {
         *       "feature_id": "1",
         *       "characteristic": "12",
         *       "batch_id": "1",
         *       "kind": "individuals",
         *       "unit": "mm",
         *       "pieces": 11,
         *       "rules": [
         *         "western_electric_1",
         *         "western_electric_2",
         *         "western_electric_3",
         *         "western_electric_4"
         *       ],
         *       "phases": [
         *         {
         *           "number": 1,
         *           "from_piece": 1,
         *           "to_piece": 11,
         *           "why": "start"
         *         }
         *       ],
         *       "panels": [
         *         {
         *           "name": "size",
         *           "unit": "mm",
         *           "points": [
         *             {
         *               "piece": 10,
         *               "from_piece": 10,
         *               "value": 12.003,
         *               "centre": 12.004181818,
         *               "lower": 11.996471644,
         *               "upper": 12.011891992,
         *               "phase": 1
         *             },
         *             {
         *               "piece": 11,
         *               "from_piece": 11,
         *               "value": 12.005,
         *               "centre": 12.004181818,
         *               "lower": 11.996471644,
         *               "upper": 12.011891992,
         *               "phase": 1
         *             }
         *           ]
         *         },
         *         {
         *           "name": "moving_range",
         *           "unit": "mm",
         *           "points": [
         *             {
         *               "piece": 10,
         *               "from_piece": 10,
         *               "value": 0.003,
         *               "centre": 0.0029,
         *               "lower": 0,
         *               "upper": 0.009472943,
         *               "phase": 1
         *             },
         *             {
         *               "piece": 11,
         *               "from_piece": 11,
         *               "value": 0.002,
         *               "centre": 0.0029,
         *               "lower": 0,
         *               "upper": 0.009472943,
         *               "phase": 1
         *             }
         *           ]
         *         }
         *       ],
         *       "signals": [],
         *       "sigma": 0.002570058,
         *       "doubtful_pieces": [
         *         12
         *       ],
         *       "lower_limit": 11.97,
         *       "upper_limit": 12.03,
         *       "target": 12,
         *       "says": [
         *         "Surprising and not confirmed by a repeat: piece 12 at 12.024 mm. Limits and indices go without; measure again, since it may be real.",
         *         "Of what counts here nothing stands out: what is seen is the scatter of a process that stays as it is. Leave it alone.",
         *         "Limits: mean of the phase and 3 standard deviations from moving ranges of two (ISO 7870-2).",
         *         "Several tests are on: even of a process that stays as it is, one of them speaks up about once in 90 points (Champ and Woodall 1987, for the four of Western Electric)."
         *       ]
         *     }
         */
        Chart: {
            /** @description The feature */
            feature_id: string;
            /** @description Its balloon number */
            characteristic: string;
            /** @description The batch */
            batch_id: string;
            /**
             * @description The kind of chart
             * @enum {string}
             */
            kind: "individuals" | "mean_range" | "mean_s" | "ewma" | "cusum" | "innovations" | "p" | "np" | "c" | "u";
            /** @description Unit of sizes */
            unit: string;
            /** @description Pieces that are charted */
            pieces: number;
            /** @description The tests that are switched on */
            rules: string[];
            /** @description Standard deviation that limits go by; null: limits follow from counts */
            sigma: number | null;
            /** @description Stretches between edges and corrections; each has a centre line of its own */
            phases: {
                /** @description Its number, from 1 on */
                number: number;
                /** @description Its first piece that was measured */
                from_piece: number;
                /** @description Its last one */
                to_piece: number;
                /**
                 * @description What began it
                 * @enum {string}
                 */
                why: "start" | "edge" | "correction";
            }[];
            /** @description Upper panel first */
            panels: {
                /** @description What it shows */
                name: string;
                /** @description Unit of its values */
                unit: string;
                /** @description In cutting order */
                points: {
                    /** @description The piece, or the last one of the subgroup */
                    piece: number;
                    /** @description The first piece of the subgroup; the piece itself where there is none */
                    from_piece: number;
                    /** @description What is charted */
                    value: number;
                    /** @description Centre line */
                    centre: number;
                    /** @description Lower control limit; null: there is none */
                    lower: number | null;
                    /** @description Upper control limit */
                    upper: number | null;
                    /** @description Number of its phase, from 1 on */
                    phase: number;
                }[];
            }[];
            /** @description Patterns found, in cutting order */
            signals: {
                /** @description On which panel */
                panel: string;
                /** @description The piece that completes the pattern */
                piece: number;
                /** @description The test that found it */
                rule: string;
                /** @description What it means, for who stands at the machine */
                says: string;
            }[];
            /** @description Pieces whose reading surprised and was not confirmed by a repeat: said, but not counted */
            doubtful_pieces: number[];
            /** @description Lower limit of size, of which a control limit knows nothing; null: none */
            lower_limit: number | null;
            /** @description Upper limit of size; null: none */
            upper_limit: number | null;
            /** @description The aim; null: it has no size */
            target: number | null;
            /** @description The chart in plain words, with what it rests on */
            says: string[];
        };
        /**
         * @description What to measure on a piece, and what to do next
         * @example {
         *       "batch_id": "3",
         *       "piece": 13,
         *       "seat": null,
         *       "state": "every_piece",
         *       "features": [
         *         {
         *           "feature_id": "12",
         *           "characteristic": "12",
         *           "places": null,
         *           "gauge_id": "5",
         *           "sure_piece": true,
         *           "rule": "after_change",
         *           "why": "first piece after a change of its register: was it keyed, with the right sign, into the right register?"
         *         }
         *       ],
         *       "left_out": [],
         *       "next_pieces": [
         *         14,
         *         15,
         *         16
         *       ],
         *       "wait_for_result": true,
         *       "next": {
         *         "action": "set_offset",
         *         "piece": 13,
         *         "why": "Change D7 wear of tool 7 by -0.020 mm: it should then read -0.020 mm."
         *       }
         *     }
         */
        CheckAnswer: {
            /** @description The batch */
            batch_id: string;
            /** @description The piece to be measured */
            piece: number;
            /** @description Seat in the fixture that follows from the piece's number; null: the batch names no seats */
            seat: string | null;
            /**
             * @description `relaxed`: every block of features has earned an interval above one piece
             * @enum {string}
             */
            state: "every_piece" | "relaxed" | "cause_open";
            /** @description What to measure on this piece, in the part's order */
            features: {
                /** @description Feature to measure */
                feature_id: string;
                /** @description Its balloon number */
                characteristic: string;
                /** @description Where it has still to be measured on this piece; null: one reading speaks for it */
                places: string[] | null;
                /** @description Gauge to measure it with; null: none is named */
                gauge_id: string | null;
                /** @description True: take this very piece at the machine, not one out of the chute */
                sure_piece: boolean;
                /** @description Rule that asks for it */
                rule: string;
                /** @description The same in words */
                why: string;
            }[];
            /** @description What need not be measured on it */
            left_out: {
                /** @description Feature */
                feature_id: string;
                /** @description Why not on this piece */
                why: string;
            }[];
            /** @description Pieces after it on which something is due if all goes well */
            next_pieces: number[];
            /** @description True: cut nothing more until this piece's readings are in */
            wait_for_result: boolean;
            /** @description The one thing to do next on this batch, as a write would answer it; of readings only what is still open */
            next: components["schemas"]["NextStep"];
        };
        /**
         * @description What to measure on one piece, and why
         * @example {
         *       "batch_id": "3",
         *       "piece": 13,
         *       "seat": null,
         *       "state": "every_piece",
         *       "features": [
         *         {
         *           "feature_id": "12",
         *           "characteristic": "12",
         *           "places": null,
         *           "gauge_id": "5",
         *           "sure_piece": true,
         *           "rule": "after_change",
         *           "why": "first piece after a change of its register: was it keyed, with the right sign, into the right register?"
         *         }
         *       ],
         *       "left_out": [],
         *       "next_pieces": [
         *         14,
         *         15,
         *         16
         *       ],
         *       "wait_for_result": true
         *     }
         */
        CheckPlan: {
            /** @description The batch */
            batch_id: string;
            /** @description The piece to be measured */
            piece: number;
            /** @description Seat in the fixture that follows from the piece's number; null: the batch names no seats */
            seat: string | null;
            /**
             * @description `relaxed`: every block of features has earned an interval above one piece
             * @enum {string}
             */
            state: "every_piece" | "relaxed" | "cause_open";
            /** @description What to measure on this piece, in the part's order */
            features: {
                /** @description Feature to measure */
                feature_id: string;
                /** @description Its balloon number */
                characteristic: string;
                /** @description Where it has still to be measured on this piece; null: one reading speaks for it */
                places: string[] | null;
                /** @description Gauge to measure it with; null: none is named */
                gauge_id: string | null;
                /** @description True: take this very piece at the machine, not one out of the chute */
                sure_piece: boolean;
                /** @description Rule that asks for it */
                rule: string;
                /** @description The same in words */
                why: string;
            }[];
            /** @description What need not be measured on it */
            left_out: {
                /** @description Feature */
                feature_id: string;
                /** @description Why not on this piece */
                why: string;
            }[];
            /** @description Pieces after it on which something is due if all goes well */
            next_pieces: number[];
            /** @description True: cut nothing more until this piece's readings are in */
            wait_for_result: boolean;
        };
        /**
         * @description Dodge's continuous sampling plan CSP-1 (1943; MIL-STD-1235B)
         * @example {
         *       "i": 111,
         *       "f_denominator": 10,
         *       "bad_pieces": "removed",
         *       "aoql_percent": 0.997,
         *       "at_percent": 1.89,
         *       "behaviour": null,
         *       "why": "Inspect every piece until 111 in a row are good, then 1 in 10; a bad one brings back inspection of every piece."
         *     }
         */
        ContinuousPlan: {
            /** @description Clearance number: good pieces in a row that end full inspection */
            i: number;
            /** @description 1 in so many is inspected while sampling */
            f_denominator: number;
            /**
             * @description `removed`: bad pieces found are taken out; `replaced`: good ones take their place
             * @enum {string}
             */
            bad_pieces: "removed" | "replaced";
            /** @description Largest average share of bad pieces that can get through, percent */
            aoql_percent: number;
            /** @description Percent bad in production at which that happens */
            at_percent: number;
            /** @description How it behaves at the percentage asked about; null: none was */
            behaviour: {
                /** @description Percent bad in production */
                percent: number;
                /** @description Average outgoing quality, percent bad */
                outgoing_percent: number;
                /** @description Share of all pieces that is inspected, on average */
                fraction_inspected: number;
                /** @description Share of the pieces that pass while sampling */
                accepted_by_sampling: number;
                /** @description Pieces in a run of full inspection, on average */
                full_inspection: number;
                /** @description Pieces in a run of sampling, on average */
                sampling: number;
            } | null;
            /** @description The plan in words */
            why: string;
        };
        /**
         * @description What is advised about a register, with its arithmetic
         * @example {
         *       "correction_id": "3-1",
         *       "status": "proposed",
         *       "kind": "change",
         *       "tool_id": "2",
         *       "register_id": "4",
         *       "register_number": 7,
         *       "register_label": "D7 wear",
         *       "unit": "mm",
         *       "value_now": 0,
         *       "change": -0.02,
         *       "value_after": -0.02,
         *       "batch_id": "3",
         *       "piece": 12,
         *       "gauge_id": null,
         *       "reading_ids": [
         *         "3-1"
         *       ],
         *       "features": [
         *         {
         *           "feature_id": "12",
         *           "place": null,
         *           "effect": 2,
         *           "unit": "mm",
         *           "expected_before": 6.0397,
         *           "expected_after": 5.9997,
         *           "window": {
         *             "low": -0.045,
         *             "high": 0.005
         *           }
         *         }
         *       ],
         *       "causes": null,
         *       "why": "12 Tongue width runs at 6.0397 mm, 79 % of the way from its target to the limit.",
         *       "arithmetic": [
         *         "0.000 mm + (-0.020 mm) = -0.020 mm: D7 wear should then read this."
         *       ],
         *       "cautions": [
         *         "Check sign, register and decimal point at the control before cycle start."
         *       ],
         *       "line": "OFFSET 7 ADD -0.020",
         *       "from_piece": null,
         *       "from_cut": null,
         *       "value_found": null,
         *       "value_set": null,
         *       "was_withdrawn": false,
         *       "found": null,
         *       "reason": null,
         *       "by": null
         *     }
         */
        Correction: {
            /** @description Identity; null where a register is only better left alone, which is not kept */
            correction_id: string | null;
            /**
             * @description Where it stands
             * @enum {string}
             */
            status: "proposed" | "applied" | "declined" | "superseded" | "settled";
            /**
             * @description What is advised; only `change` has a change other than 0. `check_gauge`: a gauge reads otherwise beside the reference gauge than it did; a check of it on a standard closes it, and nothing waits for that
             * @enum {string}
             */
            kind: "change" | "leave_alone" | "measure_again" | "change_tool" | "find_cause" | "check_gauge";
            /** @description The tool */
            tool_id: string | null;
            /** @description The register */
            register_id: string | null;
            /** @description Its number at the control */
            register_number: number | null;
            /** @description Its label at the control */
            register_label: string | null;
            /**
             * @description Unit of the register values: the machine's
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description What the register is believed to hold */
            value_now: number | null;
            /** @description What to add to it */
            change: number;
            /** @description What it should then read */
            value_after: number | null;
            /** @description The batch whose readings ask for it */
            batch_id: string;
            /** @description Latest piece that it rests on */
            piece: number;
            /** @description measure_again: the gauge to measure with; null: the one that took the reading */
            gauge_id: string | null;
            /** @description Latest readings that it rests on */
            reading_ids: string[];
            /** @description What the change does to each feature */
            features: {
                /** @description Feature that the register moves */
                feature_id: string;
                /** @description The place of it that this is about; null: it has none */
                place: string | null;
                /** @description Change of its size per +1 in the register */
                effect: number;
                /**
                 * @description Unit of its sizes
                 * @enum {string}
                 */
                unit: "mm" | "inch";
                /** @description Size expected of the next piece as things stand */
                expected_before: number;
                /** @description Size expected with the changes advised */
                expected_after: number;
                /** @description Changes that keep it inside its limits, from its latest reading, referred to value_now, exact; null: not measured yet */
                window: {
                    /** @description Smallest change; null: no limit on that side */
                    low: number | null;
                    /** @description Largest change; null: no limit on that side */
                    high: number | null;
                } | null;
            }[];
            /** @description Of find_cause: what it most likely is, first what fits best; empty: nothing stands out; null: of any other kind */
            causes: components["schemas"]["LikelyCause"][] | null;
            /** @description The reason in plain words */
            why: string;
            /** @description The way from the readings to the new value, line by line */
            arithmetic: string[];
            /** @description What to look at before cycle start */
            cautions: string[];
            /** @description The line for the control, from the machine's template; null without one */
            line: string | null;
            /** @description Applied: from this piece on */
            from_piece: number | null;
            /** @description Applied: from this cut of it on */
            from_cut: number | null;
            /** @description Applied: what the control showed before */
            value_found: number | null;
            /** @description Applied: what was really set */
            value_set: number | null;
            /** @description True: it had been superseded or declined, and was keyed all the same */
            was_withdrawn: boolean;
            /** @description What a person found */
            found: string | null;
            /** @description Why it was declined or voided */
            reason: string | null;
            /** @description Who applied, declined or answered it */
            by: string | null;
        };
        /**
         * @description What follows
         * @example {
         *       "correction": {
         *         "correction_id": "3-1",
         *         "status": "proposed",
         *         "kind": "change",
         *         "tool_id": "2",
         *         "register_id": "4",
         *         "register_number": 7,
         *         "register_label": "D7 wear",
         *         "unit": "mm",
         *         "value_now": 0,
         *         "change": -0.02,
         *         "value_after": -0.02,
         *         "batch_id": "3",
         *         "piece": 12,
         *         "gauge_id": null,
         *         "reading_ids": [
         *           "3-1"
         *         ],
         *         "features": [
         *           {
         *             "feature_id": "12",
         *             "place": null,
         *             "effect": 2,
         *             "unit": "mm",
         *             "expected_before": 6.0397,
         *             "expected_after": 5.9997,
         *             "window": {
         *               "low": -0.045,
         *               "high": 0.005
         *             }
         *           }
         *         ],
         *         "causes": null,
         *         "why": "12 Tongue width runs at 6.0397 mm, 79 % of the way from its target to the limit.",
         *         "arithmetic": [
         *           "0.000 mm + (-0.020 mm) = -0.020 mm: D7 wear should then read this."
         *         ],
         *         "cautions": [
         *           "Check sign, register and decimal point at the control before cycle start."
         *         ],
         *         "line": "OFFSET 7 ADD -0.020",
         *         "from_piece": null,
         *         "from_cut": null,
         *         "value_found": null,
         *         "value_set": null,
         *         "was_withdrawn": false,
         *         "found": null,
         *         "reason": null,
         *         "by": null
         *       },
         *       "flags": [],
         *       "next": {
         *         "action": "set_offset",
         *         "piece": 13,
         *         "why": "Change D7 wear of tool 7 by -0.020 mm: it should then read -0.020 mm."
         *       },
         *       "corrections": []
         *     }
         */
        CorrectionAnswer: {
            /** @description The correction as it stands now */
            correction: components["schemas"]["Correction"];
            /** @description `was_withdrawn`: it was no longer advised; `value_found_differs`: history was put right first; `found_keyed`: the control showed the value advised already, and it counts as set from the piece named on */
            flags: string[];
            next: components["schemas"]["NextStep"];
            /** @description Advice that stands in its batch now */
            corrections: components["schemas"]["Correction"][];
        };
        /**
         * @description What was set at the control
         * @example {
         *       "from_piece": 13,
         *       "from_cut": 1,
         *       "value_found": 0,
         *       "value_after": -0.02,
         *       "by": "shift A"
         *     }
         */
        CorrectionApply: {
            /** @description First piece cut with it; absent: the next one, or with a from_cut above 1 the last one */
            from_piece?: number;
            /** @description 2 and more: from this cut of that piece on. Absent: 1 */
            from_cut?: number;
            /** @description What the control showed before, in the machine's unit */
            value_found?: number | string;
            /** @description What was really set; absent: as advised */
            value_after?: number | string;
            /** @description Who set it */
            by?: string;
            /** @description Where it counts in other open batches of the machine; absent: from the piece after the last one known to be cut */
            also_from?: {
                /** @description Another open batch of the machine */
                batch_id: string;
                /** @description The first of its pieces cut with the change */
                from_piece: number;
            }[];
            /**
             * @description The value stands at the control, though it is further from the old one than the machine allows
             * @constant
             */
            confirmed?: true;
        };
        /**
         * @description A correction that is not wanted
         * @example {
         *       "reason": "tool change first",
         *       "by": "setter"
         *     }
         */
        CorrectionDecline: {
            /** @description Why not */
            reason: string;
            /** @description Who says so */
            by?: string;
        };
        /**
         * @description What a person found when the advice was to find the cause
         * @example {
         *       "found": "nothing",
         *       "from_piece": 42,
         *       "by": "setter"
         *     }
         */
        CorrectionFinding: {
            /**
             * @description `nothing`: the jump is real and is corrected. An entry or edge is posted first
             * @enum {string}
             */
            found: "nothing" | "setup_put_right" | "register_put_right" | "edge_changed";
            /** @description First piece cut after it was put right; absent: the next one */
            from_piece?: number;
            /** @description What exactly */
            note?: string;
            /** @description Who looked */
            by?: string;
        };
        /** @description One page of a list */
        CorrectionList: {
            /** @description This page, oldest first */
            items: components["schemas"]["CorrectionRecord"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A correction, with when it was advised and what it did
         * @example {
         *       "correction_id": "3-1",
         *       "status": "applied",
         *       "kind": "change",
         *       "tool_id": "2",
         *       "register_id": "4",
         *       "register_number": 7,
         *       "register_label": "D7 wear",
         *       "unit": "mm",
         *       "value_now": 0,
         *       "change": -0.02,
         *       "value_after": -0.02,
         *       "batch_id": "3",
         *       "piece": 12,
         *       "gauge_id": null,
         *       "reading_ids": [
         *         "3-1"
         *       ],
         *       "features": [
         *         {
         *           "feature_id": "12",
         *           "place": null,
         *           "effect": 2,
         *           "unit": "mm",
         *           "expected_before": 6.0397,
         *           "expected_after": 5.9997,
         *           "window": {
         *             "low": -0.045,
         *             "high": 0.005
         *           }
         *         }
         *       ],
         *       "causes": null,
         *       "why": "12 Tongue width runs at 6.0397 mm, 79 % of the way from its target to the limit.",
         *       "arithmetic": [
         *         "0.000 mm + (-0.020 mm) = -0.020 mm: D7 wear should then read this."
         *       ],
         *       "cautions": [
         *         "Check sign, register and decimal point at the control before cycle start."
         *       ],
         *       "line": "OFFSET 7 ADD -0.020",
         *       "from_piece": 13,
         *       "from_cut": 1,
         *       "value_found": 0,
         *       "value_set": -0.02,
         *       "was_withdrawn": false,
         *       "found": null,
         *       "reason": null,
         *       "by": "shift A",
         *       "proposed_at": "2026-03-02T07:41:02.000Z",
         *       "ended_at": "2026-03-02T07:45:00.000Z",
         *       "applied_at": "2026-03-02T07:45:00.000Z",
         *       "applied_by": "shift A",
         *       "outcome": {
         *         "from_piece": 13,
         *         "until_piece": null,
         *         "features": [
         *           {
         *             "feature_id": "12",
         *             "place": null,
         *             "unit": "mm",
         *             "expected_before": 6.0397,
         *             "promised": 5.9997,
         *             "first_piece": 13,
         *             "first_size": 6.001,
         *             "pieces": [
         *               13,
         *               14
         *             ],
         *             "mean_size": 6.0005,
         *             "off_promise": 0.0008
         *           }
         *         ]
         *       }
         *     }
         */
        CorrectionRecord: {
            /** @description Identity; null where a register is only better left alone, which is not kept */
            correction_id: string | null;
            /**
             * @description Where it stands
             * @enum {string}
             */
            status: "proposed" | "applied" | "declined" | "superseded" | "settled";
            /**
             * @description What is advised; only `change` has a change other than 0. `check_gauge`: a gauge reads otherwise beside the reference gauge than it did; a check of it on a standard closes it, and nothing waits for that
             * @enum {string}
             */
            kind: "change" | "leave_alone" | "measure_again" | "change_tool" | "find_cause" | "check_gauge";
            /** @description The tool */
            tool_id: string | null;
            /** @description The register */
            register_id: string | null;
            /** @description Its number at the control */
            register_number: number | null;
            /** @description Its label at the control */
            register_label: string | null;
            /**
             * @description Unit of the register values: the machine's
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description What the register is believed to hold */
            value_now: number | null;
            /** @description What to add to it */
            change: number;
            /** @description What it should then read */
            value_after: number | null;
            /** @description The batch whose readings ask for it */
            batch_id: string;
            /** @description Latest piece that it rests on */
            piece: number;
            /** @description measure_again: the gauge to measure with; null: the one that took the reading */
            gauge_id: string | null;
            /** @description Latest readings that it rests on */
            reading_ids: string[];
            /** @description What the change does to each feature */
            features: {
                /** @description Feature that the register moves */
                feature_id: string;
                /** @description The place of it that this is about; null: it has none */
                place: string | null;
                /** @description Change of its size per +1 in the register */
                effect: number;
                /**
                 * @description Unit of its sizes
                 * @enum {string}
                 */
                unit: "mm" | "inch";
                /** @description Size expected of the next piece as things stand */
                expected_before: number;
                /** @description Size expected with the changes advised */
                expected_after: number;
                /** @description Changes that keep it inside its limits, from its latest reading, referred to value_now, exact; null: not measured yet */
                window: {
                    /** @description Smallest change; null: no limit on that side */
                    low: number | null;
                    /** @description Largest change; null: no limit on that side */
                    high: number | null;
                } | null;
            }[];
            /** @description Of find_cause: what it most likely is, first what fits best; empty: nothing stands out; null: of any other kind */
            causes: components["schemas"]["LikelyCause"][] | null;
            /** @description The reason in plain words */
            why: string;
            /** @description The way from the readings to the new value, line by line */
            arithmetic: string[];
            /** @description What to look at before cycle start */
            cautions: string[];
            /** @description The line for the control, from the machine's template; null without one */
            line: string | null;
            /** @description Applied: from this piece on */
            from_piece: number | null;
            /** @description Applied: from this cut of it on */
            from_cut: number | null;
            /** @description Applied: what the control showed before */
            value_found: number | null;
            /** @description Applied: what was really set */
            value_set: number | null;
            /** @description True: it had been superseded or declined, and was keyed all the same */
            was_withdrawn: boolean;
            /** @description What a person found */
            found: string | null;
            /** @description Why it was declined or voided */
            reason: string | null;
            /** @description Who applied, declined or answered it */
            by: string | null;
            /**
             * Format: date-time
             * @description When it was advised first
             */
            proposed_at: string;
            /** @description When it was applied, declined, answered or withdrawn */
            ended_at: string | null;
            /** @description When it was applied, also where that was voided since; null: never */
            applied_at: string | null;
            /** @description Who applied it, likewise; null: not said, or nobody did */
            applied_by: string | null;
            /** @description What it did, from the readings as they stand; null: it has not been applied, or was voided */
            outcome: {
                /** @description First piece cut with it */
                from_piece: number;
                /** @description Last piece cut with it in this batch; null: the register has not been entered since */
                until_piece: number | null;
                /** @description What was promised of each feature, and what was found */
                features: {
                    /** @description Feature that the register moves */
                    feature_id: string;
                    /** @description Place on it; null: it has none */
                    place: string | null;
                    /**
                     * @description Unit of its sizes
                     * @enum {string}
                     */
                    unit: "mm" | "inch";
                    /** @description Size that was expected without the change */
                    expected_before: number;
                    /** @description Size that the value really set was to bring */
                    promised: number;
                    /** @description First piece cut with it that was measured; null: none yet */
                    first_piece: number | null;
                    /** @description What that one read */
                    first_size: number | null;
                    /** @description The first pieces measured with it, at most 5 */
                    pieces: number[];
                    /** @description Their mean */
                    mean_size: number | null;
                    /** @description That mean less what was promised */
                    off_promise: number | null;
                }[];
            } | null;
        };
        /**
         * @description How far a batch has come, and what to do next
         * @example {
         *       "batch_id": "3",
         *       "last_piece_cut": 57,
         *       "next": {
         *         "action": "run_on",
         *         "piece": 60,
         *         "why": "Run on to piece 60, the next to be measured (5 good checks in a row: every 8 pieces)."
         *       }
         *     }
         */
        Count: {
            /** @description The batch */
            batch_id: string;
            /** @description Last piece known to be cut */
            last_piece_cut: number;
            next: components["schemas"]["NextStep"];
        };
        /**
         * @description How far the batch has come. Not needed where readings come in: each proves that its piece was cut
         * @example {
         *       "last_piece_cut": 57
         *     }
         */
        CountCreate: {
            /** @description Number of the last piece that has been cut */
            last_piece_cut: number;
        };
        /** @description What cuts a feature, and how a register moves it */
        Cut: {
            /** @description The tool that cuts it; null: the register is a work offset */
            tool_id: string | null;
            /** @description The register that moves the feature, a tool's or a work offset; null where the tool cuts it and no register does */
            register_id: string | null;
            /** @description How many walls of the feature this tool cuts: 2 for a slot or a boss cut on both sides, 1 for a single wall */
            walls: (1 | 2) | null;
            /** @description What adding to the register does to the size, seen at the machine; needed where the set-up does not say it, as for every work offset */
            plus_makes: ("bigger" | "smaller") | null;
            /** @description Change of the size per +1 in the register, both in the same unit */
            effect: number | null;
            /** @description Of a go_no_go: how much of the register may be tried at a time where the gauge refuses, in the machine's unit. It is advised as a step to try, never worked out */
            step: number | null;
        };
        /**
         * @description Decisions about pieces, and what is still on hold in their batch
         * @example {
         *       "decisions": [
         *         {
         *           "decision_id": "2",
         *           "batch_id": "3",
         *           "from_piece": 50,
         *           "to_piece": 50,
         *           "decision": "use_as_is",
         *           "authority": "customer, concession C-114",
         *           "nonconformance": "N-7",
         *           "note": null,
         *           "measure_again": null,
         *           "decided_at": "2026-03-02T09:10:00.000Z",
         *           "by": "quality",
         *           "created_at": "2026-03-02T09:10:00.000Z",
         *           "voided": null
         *         }
         *       ],
         *       "pieces_on_hold": 0,
         *       "on_hold": []
         *     }
         */
        DecisionsAnswer: {
            /** @description The decisions as they are kept: one for each range */
            decisions: components["schemas"]["PieceDecision"][];
            /** @description How many pieces of the batch are still on hold */
            pieces_on_hold: number;
            /** @description Which ones */
            on_hold: {
                /** @description First piece, in cutting order */
                from_piece: number;
                /** @description Last piece, itself included */
                to_piece: number;
            }[];
        };
        /**
         * @description Which cause fits best what was measured
         * @example {
         *       "batch_id": "3",
         *       "from_piece": 1,
         *       "to_piece": 1,
         *       "since_piece": null,
         *       "chi_square": 61.2,
         *       "readings": 3,
         *       "why": "3 deviations of piece 1 from target: warmth stands out.",
         *       "causes": [
         *         {
         *           "cause": "warmth",
         *           "tool_id": null,
         *           "register_id": null,
         *           "gauge_id": null,
         *           "feature_id": null,
         *           "place": null,
         *           "seat": null,
         *           "weight": 0.98,
         *           "explains": true,
         *           "why": "Sizes are off in proportion to their length, 100.0 µm in each metre: warmth, or a scale. It reaches 3 of 3 features measured and leaves χ² 0.4 of 61.2 with 2 degrees of freedom (99 % point 9.2): no more than scatter.",
         *           "next_step": "Let part and gauge reach the same temperature and measure again, or send temperature_c with the reading; no offset.",
         *           "evidence": 55.2,
         *           "chi_square": 0.4,
         *           "degrees_of_freedom": 2,
         *           "amounts": [
         *             {
         *               "of": "growth",
         *               "value": 100,
         *               "standard_uncertainty": 12.5,
         *               "unit": "µm/m"
         *             }
         *           ],
         *           "work_offset_changes": []
         *         }
         *       ],
         *       "alike": 1,
         *       "together": [],
         *       "tell_apart": null,
         *       "deviations": [
         *         {
         *           "feature_id": "12",
         *           "characteristic": "12",
         *           "place": null,
         *           "component": "size",
         *           "gauge_id": "5",
         *           "pieces": 1,
         *           "unit": "mm",
         *           "deviation": 0.03,
         *           "explained": 0.03
         *         }
         *       ],
         *       "missing": [
         *         {
         *           "feature_id": "12",
         *           "members": [
         *             "at",
         *             "depth"
         *           ]
         *         }
         *       ],
         *       "cautions": [
         *         "Check sign, register and decimal point at the control before cycle start."
         *       ]
         *     }
         */
        Diagnosis: {
            /** @description The batch */
            batch_id: string;
            /** @description First piece looked at; null: none has been measured */
            from_piece: number | null;
            /** @description Last piece looked at */
            to_piece: number | null;
            /** @description From this piece on it is compared with the pieces before; null: with the target */
            since_piece: number | null;
            /** @description How far the readings are off in all, in squared standard deviations */
            chi_square: number;
            /** @description Deviations looked at; repeats count once */
            readings: number;
            /** @description What stands out, in plain words */
            why: string;
            /** @description Causes, most believable first: those that cannot be told apart, then what is left */
            causes: {
                /**
                 * @description `tool_size`: the tool is not what is entered, or its register; `tool_wear`: it wanders from piece to piece; `deflection`: cutter or part bends; `register_mistaken`: a change came out otherwise than keyed; `work_zero`: work zero or fixture; `part_turned`: opposite at opposite ends; `warmth`: in proportion to length, or fading from a cold start; `gauge`: inside and outside off alike; `single_feature`: no other one is off
                 * @enum {string}
                 */
                cause: "tool_size" | "tool_wear" | "deflection" | "register_mistaken" | "work_zero" | "part_turned" | "warmth" | "gauge" | "single_feature";
                /** @description The tool that it is about */
                tool_id: string | null;
                /** @description The register */
                register_id: string | null;
                /** @description The gauge */
                gauge_id: string | null;
                /** @description The feature */
                feature_id: string | null;
                /** @description The place on it */
                place: string | null;
                /** @description The seat, where only what sat there is off */
                seat: string | null;
                /** @description Share of belief among all causes looked at and none, each held equally likely before */
                weight: number;
                /** @description True: what it leaves over is no more than scatter */
                explains: boolean;
                /** @description The evidence in numbers */
                why: string;
                /** @description The next thing to try */
                next_step: string;
                /** @description 2 ln of how much more likely the readings are with this cause than without any; from 6 on it counts as strong */
                evidence: number;
                /** @description What it leaves over, in squared standard deviations */
                chi_square: number;
                /** @description Readings less sizes fitted */
                degrees_of_freedom: number;
                /** @description How large it is */
                amounts: {
                    /** @description What it is a size of: `register`, `wear_per_100_pieces`, `bend_at_depth`, `taper_per_100_mm`, `shift_x` to `shift_z`, `turn_x` to `turn_z`, `growth`, `temperature_rise`, `gauge`, `ball`, `deviation`, `deviation_x`, `deviation_y` */
                    of: string;
                    /** @description The size that fits best */
                    value: number;
                    /** @description How sure it is */
                    standard_uncertainty: number;
                    /** @description Unit of both */
                    unit: string;
                }[];
                /** @description Of a work zero that stands out clearly: by how much to correct the work offsets; else empty */
                work_offset_changes: {
                    /** @description A work offset */
                    register_id: string;
                    /** @description Its number at the control */
                    register_number: number;
                    /** @description Its label at the control */
                    register_label: string;
                    /**
                     * @description Unit of its values
                     * @enum {string}
                     */
                    unit: "mm" | "inch";
                    /** @description What it is believed to hold */
                    value_now: number;
                    /** @description What to add to it, in steps of the control */
                    change: number;
                    /** @description What it should then read */
                    value_after: number;
                }[];
            }[];
            /** @description So many causes from the first that the readings do not tell apart; 0: nothing stands out from scatter */
            alike: number;
            /** @description Two causes that explain the readings together where none does alone; else empty */
            together: {
                /**
                 * @description `tool_size`: the tool is not what is entered, or its register; `tool_wear`: it wanders from piece to piece; `deflection`: cutter or part bends; `register_mistaken`: a change came out otherwise than keyed; `work_zero`: work zero or fixture; `part_turned`: opposite at opposite ends; `warmth`: in proportion to length, or fading from a cold start; `gauge`: inside and outside off alike; `single_feature`: no other one is off
                 * @enum {string}
                 */
                cause: "tool_size" | "tool_wear" | "deflection" | "register_mistaken" | "work_zero" | "part_turned" | "warmth" | "gauge" | "single_feature";
                /** @description The tool that it is about */
                tool_id: string | null;
                /** @description The register */
                register_id: string | null;
                /** @description The gauge */
                gauge_id: string | null;
                /** @description The feature */
                feature_id: string | null;
                /** @description The place on it */
                place: string | null;
                /** @description The seat, where only what sat there is off */
                seat: string | null;
                /** @description Share of belief among all causes looked at and none, each held equally likely before */
                weight: number;
                /** @description True: what it leaves over is no more than scatter */
                explains: boolean;
                /** @description The evidence in numbers */
                why: string;
                /** @description The next thing to try */
                next_step: string;
                /** @description 2 ln of how much more likely the readings are with this cause than without any; from 6 on it counts as strong */
                evidence: number;
                /** @description What it leaves over, in squared standard deviations */
                chi_square: number;
                /** @description Readings less sizes fitted */
                degrees_of_freedom: number;
                /** @description How large it is */
                amounts: {
                    /** @description What it is a size of: `register`, `wear_per_100_pieces`, `bend_at_depth`, `taper_per_100_mm`, `shift_x` to `shift_z`, `turn_x` to `turn_z`, `growth`, `temperature_rise`, `gauge`, `ball`, `deviation`, `deviation_x`, `deviation_y` */
                    of: string;
                    /** @description The size that fits best */
                    value: number;
                    /** @description How sure it is */
                    standard_uncertainty: number;
                    /** @description Unit of both */
                    unit: string;
                }[];
                /** @description Of a work zero that stands out clearly: by how much to correct the work offsets; else empty */
                work_offset_changes: {
                    /** @description A work offset */
                    register_id: string;
                    /** @description Its number at the control */
                    register_number: number;
                    /** @description Its label at the control */
                    register_label: string;
                    /**
                     * @description Unit of its values
                     * @enum {string}
                     */
                    unit: "mm" | "inch";
                    /** @description What it is believed to hold */
                    value_now: number;
                    /** @description What to add to it, in steps of the control */
                    change: number;
                    /** @description What it should then read */
                    value_after: number;
                }[];
            }[];
            /** @description What to do to tell the first causes apart; null: there is nothing to tell, or nothing at hand does */
            tell_apart: string | null;
            /** @description What was looked at */
            deviations: {
                /** @description Feature */
                feature_id: string;
                /** @description Its balloon number */
                characteristic: string;
                /** @description Place on it; null: it has none */
                place: string | null;
                /**
                 * @description Its size, or one direction of its position
                 * @enum {string}
                 */
                component: "size" | "x" | "y";
                /** @description Gauge that read it */
                gauge_id: string;
                /** @description Pieces on which it was read */
                pieces: number;
                /**
                 * @description The part's unit
                 * @enum {string}
                 */
                unit: "mm" | "inch";
                /** @description By how much it is off on average, with what the registers hold on the last piece looked at */
                deviation: number;
                /** @description What the first cause says it should be off by; null: none stands out */
                explained: number | null;
            }[];
            /** @description What would let more causes be seen: PATCH /v1/features/{feature_id} */
            missing: {
                /** @description Feature */
                feature_id: string;
                /** @description What is not known of it */
                members: ("at" | "axis" | "depth")[];
            }[];
            /** @description What to look at before anything is changed */
            cautions: string[];
        };
        /**
         * @description A reading by a gauge that was found off, judged again
         * @example {
         *       "reading_id": "3-1",
         *       "batch_id": "3",
         *       "piece": 12,
         *       "cut": 1,
         *       "feature_id": "12",
         *       "characteristic": "12",
         *       "place": null,
         *       "taken_at": "2026-03-02T07:41:00.000Z",
         *       "unit": "mm",
         *       "size": 6.052,
         *       "lower_limit": 5.95,
         *       "upper_limit": 6.05,
         *       "size_from": 6.046,
         *       "size_to": 6.046,
         *       "outcome": "turns"
         *     }
         */
        DoubtedReading: {
            /** @description Identity of the reading */
            reading_id: string;
            /** @description Batch */
            batch_id: string;
            /** @description Piece */
            piece: number;
            /** @description Cut of it */
            cut: number;
            /** @description Feature */
            feature_id: string;
            /** @description Its balloon number */
            characteristic: string;
            /** @description Where on it; null: it has no places */
            place: string | null;
            /**
             * Format: date-time
             * @description When it was taken, else when it came
             */
            taken_at: string;
            /**
             * @description Unit of the sizes: the feature's
             * @enum {string}
             */
            unit: "mm" | "inch" | "deg" | "µm" | "µin";
            /** @description The size that was kept */
            size: number;
            /** @description Lower limit of size */
            lower_limit: number | null;
            /** @description Upper limit of size */
            upper_limit: number | null;
            /** @description By the error found the size is at least this */
            size_from: number;
            /** @description And at most this; the same where the direction of the error is known */
            size_to: number;
            /**
             * @description `stands`: on the same side of the limits as before. `turns`: on the other. `open`: either may be; measure it again
             * @enum {string}
             */
            outcome: "stands" | "turns" | "open";
        };
        /** @description One page of a list */
        DoubtedReadingList: {
            /** @description This page, oldest first */
            items: components["schemas"]["DoubtedReading"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A fresh edge, and what to do next
         * @example {
         *       "edge_id": "14",
         *       "tool_id": "12",
         *       "number": 2,
         *       "reason": "worn",
         *       "batch_id": "3",
         *       "from_piece": 121,
         *       "registers": [
         *         {
         *           "register_id": "21",
         *           "value": 0
         *         }
         *       ],
         *       "unit": "mm",
         *       "also_in": [],
         *       "next": {
         *         "action": "measure",
         *         "piece": 121,
         *         "why": "Measure 12 Tongue width on piece 121: first piece of a fresh edge. Cut nothing more until its readings are in."
         *       }
         *     }
         */
        EdgeAnswer: {
            /** @description Identity of the edge */
            edge_id: string;
            /** @description The tool */
            tool_id: string;
            /** @description The how-manieth edge of the tool it is; 1 is the one it was set up with */
            number: number;
            /**
             * @description Why it was changed
             * @enum {string}
             */
            reason: "worn" | "broken" | "chipped" | "indexed" | "new_insert" | "other";
            /** @description The batch that is being cut */
            batch_id: string;
            /** @description The first piece cut with the fresh edge */
            from_piece: number;
            /** @description The registers as they were entered with it */
            registers: {
                /** @description A register of the tool */
                register_id: string;
                /** @description What the control holds in it now that the fresh edge is in */
                value: number;
            }[];
            /**
             * @description The machine's unit, in which all values here are
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description Where else it counts: the machine's other open batches */
            also_in: {
                /** @description Another open batch of the machine */
                batch_id: string;
                /** @description The first of its pieces that counts as cut with the change */
                from_piece: number;
            }[];
            next: components["schemas"]["NextStep"];
        };
        /**
         * @description A fresh cutting edge in a tool: wear counts from zero again
         * @example {
         *       "batch_id": "3",
         *       "from_piece": 121,
         *       "reason": "worn",
         *       "registers": [
         *         {
         *           "register_id": "21",
         *           "value": 0
         *         },
         *         {
         *           "register_id": "22",
         *           "value": 0
         *         }
         *       ],
         *       "by": "shift A"
         *     }
         */
        EdgeCreate: {
            /** @description The batch that is being cut */
            batch_id: string;
            /** @description The first piece cut with the fresh edge; absent: the next one */
            from_piece?: number;
            /**
             * @description Why it was changed
             * @enum {string}
             */
            reason: "worn" | "broken" | "chipped" | "indexed" | "new_insert" | "other";
            /** @description Every register of the tool, changed or not, with what the control holds in it now */
            registers: {
                /** @description A register of the tool */
                register_id: string;
                /** @description What the control holds in it now that the fresh edge is in */
                value: number | string;
            }[];
            /** @description Who changed it */
            by?: string | null;
            /** @description Where it counts in other open batches of the machine; absent: from the piece after the last one known to be cut */
            also_from?: {
                /** @description Another open batch of the machine */
                batch_id: string;
                /** @description The first of its pieces cut with the change */
                from_piece: number;
            }[];
        };
        /**
         * @description How long the edges of a tool last
         * @example {
         *       "tool_id": "12",
         *       "planned_life": 400,
         *       "pieces_cut_in_use": 41,
         *       "edges_ended": 6,
         *       "edges_failed": 5,
         *       "pieces": {
         *         "least": 180,
         *         "lower_quartile": 255,
         *         "median": 297,
         *         "upper_quartile": 322,
         *         "most": 351
         *       },
         *       "by_reason": [
         *         {
         *           "reason": "worn",
         *           "edges": 6,
         *           "pieces": {
         *             "least": 180,
         *             "lower_quartile": 255,
         *             "median": 297,
         *             "upper_quartile": 322,
         *             "most": 351
         *           }
         *         }
         *       ],
         *       "failed_by": {
         *         "one_in_ten": 240,
         *         "half": 302
         *       },
         *       "advised_life": 240,
         *       "why": "By 240 pieces one edge in ten has ended worn, broken or chipped, and half of them by 302."
         *     }
         */
        EdgeLife: {
            /** @description The tool */
            tool_id: string;
            /** @description Pieces that an edge is planned for; null: not said */
            planned_life: number | null;
            /** @description Pieces that the edge in use has cut */
            pieces_cut_in_use: number;
            /** @description Edges that have been taken out, of the latest 500 */
            edges_ended: number;
            /** @description Of these, because they were worn, broken or chipped */
            edges_failed: number;
            /** @description Pieces that they cut; null: none has been taken out */
            pieces: {
                /** @description The fewest pieces */
                least: number;
                /** @description A quarter of the edges cut no more */
                lower_quartile: number;
                /** @description Half of them cut no more */
                median: number;
                /** @description Three quarters of them cut no more */
                upper_quartile: number;
                /** @description The most pieces */
                most: number;
            } | null;
            /** @description The same by reason */
            by_reason: {
                /**
                 * @description Why they were taken out
                 * @enum {string}
                 */
                reason: "worn" | "broken" | "chipped" | "indexed" | "new_insert" | "other";
                /** @description How many */
                edges: number;
                /** @description Pieces that they cut */
                pieces: {
                    /** @description The fewest pieces */
                    least: number;
                    /** @description A quarter of the edges cut no more */
                    lower_quartile: number;
                    /** @description Half of them cut no more */
                    median: number;
                    /** @description Three quarters of them cut no more */
                    upper_quartile: number;
                    /** @description The most pieces */
                    most: number;
                };
            }[];
            /** @description Product-limit estimate (Kaplan and Meier): an edge taken out for another reason, or in use, counts as having lasted at least so long */
            failed_by: {
                /** @description By so many pieces one edge in ten has failed */
                one_in_ten: number | null;
                /** @description By so many half of them have; null: not known that far */
                half: number | null;
            };
            /** @description Pieces to plan an edge for; null: too few have failed to say */
            advised_life: number | null;
            /** @description The same in words */
            why: string;
        };
        /** @description One page of a list */
        EdgeList: {
            /** @description This page, oldest first */
            items: components["schemas"]["EdgeListed"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A cutting edge of a tool, with how long it lasted and what was corrected meanwhile
         * @example {
         *       "edge_id": "14",
         *       "tool_id": "12",
         *       "number": 2,
         *       "reason": "worn",
         *       "in_batches": [
         *         {
         *           "batch_id": "3",
         *           "from_piece": 121
         *         }
         *       ],
         *       "by": "shift A",
         *       "created_at": "2026-03-02T11:20:00.000Z",
         *       "voided": null,
         *       "in_use": false,
         *       "ended_by": "worn",
         *       "ended_at": "2026-03-09T09:10:00.000Z",
         *       "pieces_cut": 312,
         *       "unit": "mm",
         *       "registers": [
         *         {
         *           "register_id": "21",
         *           "label": "D7 wear",
         *           "value_at_start": 0,
         *           "value_at_end": -0.031,
         *           "cumulative_change": -0.031,
         *           "change_per_piece": -0.0000997
         *         }
         *       ]
         *     }
         */
        EdgeListed: {
            /** @description Identity of the edge */
            edge_id: string;
            /** @description The tool */
            tool_id: string;
            /** @description The how-manieth edge of the tool it is; 1 is the one it was set up with */
            number: number;
            /** @description Why it was changed; `start`: the one it was set up with */
            reason: ("worn" | "broken" | "chipped" | "indexed" | "new_insert" | "other") | "start";
            /** @description Where it came into use; none for the one that the tool was set up with */
            in_batches: {
                /** @description A batch in which it came into use */
                batch_id: string;
                /** @description The first piece cut with the fresh edge */
                from_piece: number;
            }[];
            /** @description Who changed it */
            by: string | null;
            /**
             * Format: date-time
             * @description When it was entered
             */
            created_at: string;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
            /** @description It is the one in use */
            in_use: boolean;
            /** @description Why the next one was put in; null: it is in use, or voided */
            ended_by: ("worn" | "broken" | "chipped" | "indexed" | "new_insert" | "other") | null;
            /** @description When that was entered */
            ended_at: string | null;
            /** @description Pieces that it has cut, in all batches */
            pieces_cut: number;
            /**
             * @description The machine's unit, in which the values are
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description Its registers, from its first piece to its last; none before it has cut */
            registers: {
                /** @description A register of the tool */
                register_id: string;
                /** @description Its label at the control */
                label: string;
                /** @description What it held on the first piece */
                value_at_start: number;
                /** @description What it held on the last piece */
                value_at_end: number;
                /** @description The one less the other: what wear, and all else that was corrected, has asked for */
                cumulative_change: number;
                /** @description That by the pieces cut; null: only one was */
                change_per_piece: number | null;
            }[];
        };
        /**
         * @description What a tool's offsets held over the pieces of one edge, and what wear will ask of them
         * @example {
         *       "tool_id": "2",
         *       "edge_id": "7",
         *       "number": 2,
         *       "reason": "worn",
         *       "in_use": true,
         *       "pieces_cut": 41,
         *       "planned_life": 120,
         *       "unit": "mm",
         *       "batches": [
         *         {
         *           "batch_id": "3",
         *           "batch": "B-118",
         *           "from_piece": 10,
         *           "to_piece": 50,
         *           "pieces_cut": 0
         *         }
         *       ],
         *       "registers": [
         *         {
         *           "register_id": "4",
         *           "number": 7,
         *           "label": "D7 wear",
         *           "values": [
         *             {
         *               "batch_id": "3",
         *               "from_piece": 10,
         *               "from_cut": 1,
         *               "pieces_cut": 0,
         *               "value": 0,
         *               "reason": "worn",
         *               "correction_id": null,
         *               "by": "shift A",
         *               "at": "2026-03-02T07:40:00.000Z"
         *             },
         *             {
         *               "batch_id": "3",
         *               "from_piece": 13,
         *               "from_cut": 1,
         *               "pieces_cut": 3,
         *               "value": -0.02,
         *               "reason": null,
         *               "correction_id": "3-1",
         *               "by": "shift A",
         *               "at": "2026-03-02T07:45:00.000Z"
         *             }
         *           ],
         *           "forecast": {
         *             "batch_id": "3",
         *             "value_now": -0.02,
         *             "rate_per_piece": -0.0002,
         *             "ahead": [
         *               {
         *                 "piece": 51,
         *                 "pieces_cut": 41,
         *                 "aimed": -0.0231,
         *                 "low": -0.0247,
         *                 "high": -0.0215,
         *                 "limit_low": -0.0381,
         *                 "limit_high": -0.0081
         *               }
         *             ]
         *           }
         *         }
         *       ]
         *     }
         */
        EdgeOffsets: {
            /** @description The tool */
            tool_id: string;
            /** @description The edge */
            edge_id: string;
            /** @description Its number, counted from 1 */
            number: number;
            /** @description Why it came in; `start`: the first one */
            reason: string;
            /** @description True: it is the one in use */
            in_use: boolean;
            /** @description Pieces it has cut, in all batches */
            pieces_cut: number;
            /** @description Pieces that an edge is planned for; null: not said */
            planned_life: number | null;
            /**
             * @description The machine's unit, in which the values are
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description Where it cut, in the order in which the batches were opened */
            batches: {
                /** @description A batch in which it cut */
                batch_id: string;
                /** @description What the shop calls it */
                batch: string;
                /** @description First piece that it cut there */
                from_piece: number;
                /** @description Last one */
                to_piece: number;
                /** @description Pieces that it had cut before, in the batches that stand before */
                pieces_cut: number;
            }[];
            /** @description Its registers */
            registers: {
                /** @description The register */
                register_id: string;
                /** @description Its number at the control */
                number: number;
                /** @description Its label at the control */
                label: string;
                /** @description What it held, from the edge's first piece in each batch and from every entry on */
                values: {
                    /** @description In which batch */
                    batch_id: string;
                    /** @description It counts from this piece */
                    from_piece: number;
                    /** @description and this cut of it on */
                    from_cut: number;
                    /** @description Pieces that the edge had cut before that one, in all batches */
                    pieces_cut: number;
                    /** @description What the register held from there on */
                    value: number;
                    /** @description Why; null: brought into the batch, or not said */
                    reason: string | null;
                    /** @description The correction applied; null: there was none */
                    correction_id: string | null;
                    /** @description Who entered it; null: brought into the batch, or not said */
                    by: string | null;
                    /** @description When it was entered; null: brought into the batch */
                    at: string | null;
                }[];
                /** @description What wear will ask of it; null: not the edge in use, or nothing was measured with it yet */
                forecast: {
                    /** @description The batch that it goes by */
                    batch_id: string;
                    /** @description What the register is believed to hold */
                    value_now: number;
                    /** @description What wear asks of the register per piece, as it would be keyed */
                    rate_per_piece: number;
                    /** @description From the next piece to the end of the planned life */
                    ahead: {
                        /** @description The piece to come, in the batch of the forecast */
                        piece: number;
                        /** @description Pieces that the edge will have cut before it */
                        pieces_cut: number;
                        /** @description Value that would put the worst of its features nearest its aim there */
                        aimed: number;
                        /** @description That less two standard deviations of what is known of the wear */
                        low: number;
                        /** @description And more two of them */
                        high: number;
                        /** @description Below this value a feature is expected outside its limits there; null: no limit on that side */
                        limit_low: number | null;
                        /** @description Above this value likewise */
                        limit_high: number | null;
                    }[];
                } | null;
            }[];
        };
        /**
         * @description Pieces of a batch that an edge has cut
         * @example {
         *       "batch_id": "3",
         *       "batch": "B-118",
         *       "part_number": "HB-2041",
         *       "revision": "B",
         *       "from_piece": 1,
         *       "to_piece": 120
         *     }
         */
        EdgePieces: {
            /** @description The batch */
            batch_id: string;
            /** @description Its name */
            batch: string;
            /** @description Drawing number of its part */
            part_number: string;
            /** @description Revision of the drawing */
            revision: string;
            /** @description First piece that it cut */
            from_piece: number;
            /** @description Last piece that it cut, as far as is known */
            to_piece: number;
        };
        /** @description One page of a list */
        EdgePiecesList: {
            /** @description This page, by batch */
            items: components["schemas"]["EdgePieces"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A voided edge, and what follows from voiding it
         * @example {
         *       "edge_id": "14",
         *       "tool_id": "12",
         *       "number": 2,
         *       "reason": "worn",
         *       "in_batches": [
         *         {
         *           "batch_id": "3",
         *           "from_piece": 121
         *         }
         *       ],
         *       "by": "shift A",
         *       "created_at": "2026-03-02T11:20:00.000Z",
         *       "voided": {
         *         "at": "2026-03-02T11:25:00.000Z",
         *         "reason": "the other tool was changed",
         *         "by": "shift A"
         *       },
         *       "next": [
         *         {
         *           "batch_id": "3",
         *           "next": {
         *             "action": "run_on",
         *             "piece": 124,
         *             "why": "Run on to piece 124, the next to be measured (3 good checks in a row: every 4 pieces)."
         *           }
         *         }
         *       ]
         *     }
         */
        EdgeVoided: {
            /** @description Identity of the edge */
            edge_id: string;
            /** @description The tool */
            tool_id: string;
            /** @description The how-manieth edge of the tool it is; 1 is the one it was set up with */
            number: number;
            /** @description Why it was changed; `start`: the one it was set up with */
            reason: ("worn" | "broken" | "chipped" | "indexed" | "new_insert" | "other") | "start";
            /** @description Where it came into use; none for the one that the tool was set up with */
            in_batches: {
                /** @description A batch in which it came into use */
                batch_id: string;
                /** @description The first piece cut with the fresh edge */
                from_piece: number;
            }[];
            /** @description Who changed it */
            by: string | null;
            /**
             * Format: date-time
             * @description When it was entered
             */
            created_at: string;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
            /** @description What to do next in each batch in which it counted */
            next: {
                /** @description A batch in which the edge counted */
                batch_id: string;
                /** @description The one thing to do next in it */
                next: components["schemas"]["NextStep"];
            }[];
        };
        /**
         * @description A toleranced feature of a part
         * @example {
         *       "feature_id": "31",
         *       "part_id": "8",
         *       "characteristic": "12",
         *       "name": "Tongue width",
         *       "kind": "external",
         *       "operation": "20",
         *       "unit": "mm",
         *       "nominal": "6",
         *       "limits_from": "deviations",
         *       "fit": null,
         *       "general_tolerance": null,
         *       "broken_edge": false,
         *       "lower_deviation": -0.05,
         *       "upper_deviation": 0.05,
         *       "lower_limit": 5.95,
         *       "upper_limit": 6.05,
         *       "target": 6,
         *       "importance": "ordinary",
         *       "decision_rule": null,
         *       "guard_band_factor": null,
         *       "cut_by": [
         *         {
         *           "tool_id": "12",
         *           "register_id": "21",
         *           "walls": 2,
         *           "plus_makes": null,
         *           "effect": 2,
         *           "step": null
         *         }
         *       ],
         *       "gauge_id": "5",
         *       "places": [
         *         "top",
         *         "bottom"
         *       ],
         *       "drawing_zone": "sheet 2, B4",
         *       "reference_gauge_id": null,
         *       "pattern": null,
         *       "at": {
         *         "x": 40,
         *         "y": 0,
         *         "z": -12
         *       },
         *       "axis": "x",
         *       "depth": 12,
         *       "operation_limits": [],
         *       "geometric_characteristic": null,
         *       "roughness_parameter": null,
         *       "gauged": null,
         *       "thread_standard": null,
         *       "material_condition": null,
         *       "size_of": null,
         *       "shorter_leg": null,
         *       "toleranced_length": null,
         *       "rework": null
         *     }
         */
        Feature: {
            /** @description Identity of the feature */
            feature_id: string;
            /** @description The part it belongs to */
            part_id: string;
            /** @description Its balloon number on the drawing; each only once in a part */
            characteristic: string;
            /** @description What it is, in words */
            name: string | null;
            /**
             * @description What is measured: the size of an outside or inside feature, a depth, height or length from a face; a position, an angle, a form (a single number that is 0 at best), a roughness, a count; or what a limit gauge or the eye says. Of all but the sizes only the verdict counts: a register named in `cut_by` is not steered by them
             * @enum {string}
             */
            kind: "external" | "internal" | "depth" | "height" | "length" | "position" | "angle" | "form" | "roughness" | "count" | "go_no_go" | "visual";
            /** @description The operation that makes it */
            operation: string | null;
            /** @description Unit of its sizes: the part's; of an angle deg; of a roughness um in a part in mm, uin in one in inch; null: what is counted, or passes or fails, has none */
            unit: ("mm" | "inch" | "deg" | "µm" | "µin") | null;
            /** @description Nominal size or angle as it stands on the drawing, with its places; null: its kind has none */
            nominal: string | null;
            /** @description Which way the limits came about; null: it passes or fails */
            limits_from: ("deviations" | "limits" | "fit" | "general_tolerance" | "title_block") | null;
            /** @description Tolerance class of ISO 286, such as "H7" of an internal or "g6" of an external feature */
            fit: string | null;
            /** @description Class of ISO 2768-1 for a size or angle: f fine, m medium, c coarse, v very coarse; of ISO 2768-2 for a form: H, K or L; its own or the part's, where the limits come from it */
            general_tolerance: ("f" | "m" | "c" | "v" | "H" | "K" | "L") | null;
            /** @description It is an external radius or the height of a chamfer, for which ISO 2768-1 has a table of its own */
            broken_edge: boolean;
            /** @description Lower limit less nominal */
            lower_deviation: number | null;
            /** @description Upper limit less nominal */
            upper_deviation: number | null;
            /** @description Lower limit of size; a size on it conforms */
            lower_limit: number | null;
            /** @description Upper limit of size; a size on it conforms */
            upper_limit: number | null;
            /** @description The size to aim at; null: it passes or fails */
            target: number | null;
            /**
             * @description How the drawing marks it
             * @enum {string}
             */
            importance: "ordinary" | "key" | "critical";
            /** @description How a verdict takes the uncertainty of the reading into account. `simple`: by the limits. `guarded_acceptance`: conforming inside the limits drawn in by the guard band, nonconforming beyond the limits. `guarded_rejection`: conforming inside the limits, nonconforming beyond them by more than the guard band. `iso_14253`: both guarded. In between uncertain. Null: the part's */
            decision_rule: ("simple" | "guarded_acceptance" | "guarded_rejection" | "iso_14253") | null;
            /** @description Guard band in expanded uncertainties of the reading; without meaning under `simple`. Null: the part's */
            guard_band_factor: number | null;
            /** @description Which registers move it and which tools cut it */
            cut_by: components["schemas"]["Cut"][];
            /** @description The gauge it is measured with */
            gauge_id: string | null;
            /** @description Where it is measured, each with its own reading and verdict; the worst decides. In the order in which they lie along the feature ("top", "bottom"), as angles across it ("0°", "90°"), or numbered where one balloon stands for several like features ("1" to "10" of a 10X). Null: one reading speaks for it */
            places: string[] | null;
            /** @description Where on the drawing it stands: sheet and zone, such as "sheet 2, B4" */
            drawing_zone: string | null;
            /** @description The gauge that proves its size, where the one it is measured with only steers, such as a probe in the machine */
            reference_gauge_id: string | null;
            /** @description Its place among like features that one tool makes one after the other */
            pattern: {
                /** @description What the like features are called together */
                name: string;
                /** @description The how-manieth of them the tool makes */
                order: number;
                /** @description How many of them there are */
                of: number;
            } | null;
            /** @description Where on the part it is, from the part's zero: a hole's axis, or the middle of what is cut */
            at: {
                /** @description Along x */
                x: number;
                /** @description Along y */
                y: number;
                /** @description Along z */
                z: number;
            } | null;
            /** @description Direction along which it is measured, as its size grows when the cut moves: "x", or "-x" where a cut further along x makes it smaller. Of a depth it counts as "-z" and of a height as "z" if absent */
            axis: ("x" | "y" | "z" | "-x" | "-y" | "-z") | null;
            /** @description How deep along the tool it is cut: a cutter bends more the deeper it cuts */
            depth: number | null;
            /** @description Limits in operations before the last, such as before plating or grinding: a batch with that operation goes by them. The feature's own limits stay those of the drawing */
            operation_limits: components["schemas"]["OperationLimits"][];
            /** @description Which geometrical characteristic a `form` is, by its name in ISO 1101 */
            geometric_characteristic: ("straightness" | "flatness" | "roundness" | "cylindricity" | "line_profile" | "surface_profile" | "parallelism" | "perpendicularity" | "angularity" | "concentricity" | "coaxiality" | "symmetry" | "circular_run_out" | "total_run_out") | null;
            /** @description Which parameter a `roughness` is, such as Ra or Rz */
            roughness_parameter: string | null;
            /** @description What a limit gauge of a `go_no_go` is brought to: a plug into a bore or inside thread, a ring or snap gauge onto a shaft or outside thread */
            gauged: ("bore" | "shaft" | "internal_thread" | "external_thread") | null;
            /** @description By which standard NO-GO is judged on a thread: `iso_metric`, it may go in by at most two turns; `unified`, it has to drag definitely on or before the third */
            thread_standard: ("iso_metric" | "unified") | null;
            /** @description Of a position: whether its tolerance is stated at `maximum` or `least` material and grows with the departure of the size from it. Null: it is no position */
            material_condition: ("none" | "maximum" | "least") | null;
            /** @description At maximum or least material: the feature whose size counts */
            size_of: {
                /** @description Its balloon number; null: it is no feature of the part */
                characteristic: string | null;
                /**
                 * @description Inside or outside
                 * @enum {string}
                 */
                kind: "internal" | "external";
                /** @description Its lower limit of size */
                lower_limit: number;
                /** @description Its upper limit of size */
                upper_limit: number;
            } | null;
            /** @description Of an angle with a general tolerance: length of its shorter leg, in the part's unit */
            shorter_leg: number | null;
            /** @description Of a form with a general tolerance: the length that ISO 2768-2 goes by, in the part's unit: of a straight line its own, of a flat face its longer side or diameter, of a right angle its shorter leg, of a symmetry the shorter of the two features. Circular run-out needs none */
            toleranced_length: number | null;
            /** @description On which side of its limits a piece can be reworked, where the kind does not say it: of an angle, form, roughness, count or visual. A roughness can `above` if nothing is said, the others on neither */
            rework: ("above" | "below" | "either" | "neither") | null;
        };
        /**
         * @description What changes about a feature, in the part's unit; what is absent stays
         * @example {
         *       "target": 6.01,
         *       "cut_by": [
         *         {
         *           "register_id": "21",
         *           "walls": 2
         *         }
         *       ]
         *     }
         */
        FeatureChange: {
            /** @description Which registers move it and which tools cut it, all of them anew */
            cut_by?: {
                /** @description The register that moves the feature, a tool's or a work offset; null where the tool cuts it and no register does */
                register_id?: string | null;
                /** @description The tool that cuts it; alone where no register moves the feature, as with a reamer */
                tool_id?: string | null;
                /** @description How many walls of the feature this tool cuts: 2 for a slot or a boss cut on both sides, 1 for a single wall */
                walls?: (1 | 2) | null;
                /** @description What adding to the register does to the size, seen at the machine; needed where the set-up does not say it, as for every work offset */
                plus_makes?: ("bigger" | "smaller") | null;
                /** @description Of a go_no_go: how much of the register may be tried at a time where the gauge refuses, in the machine's unit. It is advised as a step to try, never worked out */
                step?: (number | string) | null;
                /** @description Change of the size per +1 in the register, both in the same unit; absent: derived from the set-up */
                effect?: number | null;
            }[];
            /** @description The gauge it is measured with */
            gauge_id?: string | null;
            /** @description The gauge that proves its size, where the one it is measured with only steers, such as a probe in the machine; it has to be a reference */
            reference_gauge_id?: string | null;
            /** @description The size to aim at */
            target?: number | string;
            /**
             * @description How the drawing marks it
             * @enum {string}
             */
            importance?: "ordinary" | "key" | "critical";
            /** @description Where on the part it is, from the part's zero: a hole's axis, or the middle of what is cut */
            at?: {
                /**
                 * @description Along x; 0 if absent
                 * @default 0
                 */
                x?: number | string;
                /**
                 * @description Along y; 0 if absent
                 * @default 0
                 */
                y?: number | string;
                /**
                 * @description Along z; 0 if absent
                 * @default 0
                 */
                z?: number | string;
            } | null;
            /** @description Direction along which it is measured, as its size grows when the cut moves: "x", or "-x" where a cut further along x makes it smaller. Of a depth it counts as "-z" and of a height as "z" if absent */
            axis?: ("x" | "y" | "z" | "-x" | "-y" | "-z") | null;
            /** @description How deep along the tool it is cut: a cutter bends more the deeper it cuts */
            depth?: (number | string) | null;
            /** @description Where on the drawing it stands: sheet and zone, such as "sheet 2, B4" */
            drawing_zone?: string | null;
            /** @description Where it is measured, each with its own reading and verdict; the worst decides. In the order in which they lie along the feature ("top", "bottom"), as angles across it ("0°", "90°"), or numbered where one balloon stands for several like features ("1" to "10" of a 10X). Null: one reading speaks for it. Readings of places that are no longer named keep their verdicts and teach nothing more */
            places?: string[] | null;
        };
        /** @description A toleranced feature of the drawing, in the part's unit */
        FeatureCreate: {
            /** @description Its balloon number on the drawing; each only once in a part */
            characteristic: string;
            /** @description What it is, in words */
            name?: string | null;
            /**
             * @description What is measured: the size of an outside or inside feature, a depth, height or length from a face; a position, an angle, a form (a single number that is 0 at best), a roughness, a count; or what a limit gauge or the eye says. Of all but the sizes only the verdict counts: a register named in `cut_by` is not steered by them
             * @enum {string}
             */
            kind: "external" | "internal" | "depth" | "height" | "length" | "position" | "angle" | "form" | "roughness" | "count" | "go_no_go" | "visual";
            /** @description The operation that makes it */
            operation?: string | null;
            /** @description Nominal size or angle as it stands on the drawing, with its places. An angle is a decimal of degrees, or degrees, minutes and seconds such as "44°30'0"" or "44 30 0"; sizes and angles need it, other kinds have none. A size: as a string, such as "0.500", it keeps its places; as a number it has those of its shortest decimal form, so 0.500 is 0.5 and has one */
            nominal?: number | string | null;
            /** @description Lower limit less nominal; comes with upper_deviation */
            lower_deviation?: number | string | null;
            /** @description Upper limit less nominal; comes with lower_deviation */
            upper_deviation?: number | string | null;
            /** @description Lower limit of size, instead of deviations; alone it is one-sided */
            lower_limit?: number | string | null;
            /** @description Upper limit of size, instead of deviations; alone it is one-sided. Of a position the diameter of the tolerance zone, of a form its tolerance, of a roughness the largest value in um or uin */
            upper_limit?: number | string | null;
            /** @description Tolerance class of ISO 286, such as "H7" of an internal or "g6" of an external feature, instead of deviations */
            fit?: string | null;
            /** @description Class of ISO 2768-1 for a size or angle: f fine, m medium, c coarse, v very coarse; of ISO 2768-2 for a form: H, K or L; "mK" gives it the one that is for its kind. Instead of deviations. Absent, with no limits given another way: what the part says */
            general_tolerance?: ("f" | "m" | "c" | "v" | "H" | "K" | "L" | "fH" | "fK" | "fL" | "mH" | "mK" | "mL" | "cH" | "cK" | "cL" | "vH" | "vK" | "vL") | null;
            /**
             * @description It is an external radius or the height of a chamfer, for which ISO 2768-1 has a table of its own
             * @default false
             */
            broken_edge?: boolean;
            /** @description The size to aim at; needed where a size or angle has one limit only, otherwise the middle if absent. Of a position, form and roughness 0 if absent */
            target?: number | string | null;
            /**
             * @description How the drawing marks it
             * @default ordinary
             * @enum {string}
             */
            importance?: "ordinary" | "key" | "critical";
            /** @description How a verdict takes the uncertainty of the reading into account. `simple`: by the limits. `guarded_acceptance`: conforming inside the limits drawn in by the guard band, nonconforming beyond the limits. `guarded_rejection`: conforming inside the limits, nonconforming beyond them by more than the guard band. `iso_14253`: both guarded. In between uncertain. Absent: the part's */
            decision_rule?: ("simple" | "guarded_acceptance" | "guarded_rejection" | "iso_14253") | null;
            /** @description Guard band in expanded uncertainties of the reading; without meaning under `simple`. Absent: the part's */
            guard_band_factor?: number | null;
            /**
             * @description Which registers move it and which tools cut it
             * @default []
             */
            cut_by?: {
                /** @description The register that moves the feature, a tool's or a work offset; null where the tool cuts it and no register does */
                register_id?: string | null;
                /** @description The tool that cuts it; alone where no register moves the feature, as with a reamer */
                tool_id?: string | null;
                /** @description How many walls of the feature this tool cuts: 2 for a slot or a boss cut on both sides, 1 for a single wall */
                walls?: (1 | 2) | null;
                /** @description What adding to the register does to the size, seen at the machine; needed where the set-up does not say it, as for every work offset */
                plus_makes?: ("bigger" | "smaller") | null;
                /** @description Of a go_no_go: how much of the register may be tried at a time where the gauge refuses, in the machine's unit. It is advised as a step to try, never worked out */
                step?: (number | string) | null;
                /** @description Change of the size per +1 in the register, both in the same unit; absent: derived from the set-up */
                effect?: number | null;
            }[];
            /** @description The gauge it is measured with */
            gauge_id?: string | null;
            /** @description Where it is measured, each with its own reading and verdict; the worst decides. In the order in which they lie along the feature ("top", "bottom"), as angles across it ("0°", "90°"), or numbered where one balloon stands for several like features ("1" to "10" of a 10X). Null: one reading speaks for it */
            places?: string[] | null;
            /** @description Where on the drawing it stands: sheet and zone, such as "sheet 2, B4" */
            drawing_zone?: string | null;
            /** @description The gauge that proves its size, where the one it is measured with only steers, such as a probe in the machine; it has to be a reference */
            reference_gauge_id?: string | null;
            /** @description Its place among like features that one tool makes one after the other */
            pattern?: {
                /** @description What the like features are called together */
                name: string;
                /** @description The how-manieth of them the tool makes */
                order: number;
                /** @description How many of them there are */
                of: number;
            } | null;
            /** @description Where on the part it is, from the part's zero: a hole's axis, or the middle of what is cut */
            at?: {
                /**
                 * @description Along x; 0 if absent
                 * @default 0
                 */
                x?: number | string;
                /**
                 * @description Along y; 0 if absent
                 * @default 0
                 */
                y?: number | string;
                /**
                 * @description Along z; 0 if absent
                 * @default 0
                 */
                z?: number | string;
            } | null;
            /** @description Direction along which it is measured, as its size grows when the cut moves: "x", or "-x" where a cut further along x makes it smaller. Of a depth it counts as "-z" and of a height as "z" if absent */
            axis?: ("x" | "y" | "z" | "-x" | "-y" | "-z") | null;
            /** @description How deep along the tool it is cut: a cutter bends more the deeper it cuts */
            depth?: (number | string) | null;
            /** @description Limits in operations before the last, such as before plating or grinding: a batch with that operation goes by them. The feature's own limits stay those of the drawing */
            operation_limits?: {
                /** @description The operation that has these limits; a batch of it goes by them */
                operation: string;
                /** @description Nominal size in this operation; absent: the feature's */
                nominal?: number | string;
                /** @description Lower limit less nominal; comes with upper_deviation */
                lower_deviation?: number | string;
                /** @description Upper limit less nominal; comes with lower_deviation */
                upper_deviation?: number | string;
                /** @description Lower limit of size in this operation; alone it is one-sided */
                lower_limit?: number | string;
                /** @description Upper limit of size in this operation; alone it is one-sided */
                upper_limit?: number | string;
                /** @description Tolerance class of ISO 286 in this operation */
                fit?: string;
                /**
                 * @description Class of ISO 2768-1 in this operation
                 * @enum {string}
                 */
                general_tolerance?: "f" | "m" | "c" | "v";
                /** @description A layer that comes on afterwards: the limits before it are worked out from the final ones */
                plating?: {
                    /** @description Thickness of the layer on each surface */
                    thickness: number | string;
                    /**
                     * @description It may be so much thinner or thicker
                     * @default 0
                     */
                    plus_minus?: number | string;
                    /**
                     * @description Plated surfaces that the size lies between: 2 for a diameter or a width, 1 where one side is plated
                     * @enum {number}
                     */
                    surfaces?: 1 | 2;
                    /** @description Instead of surfaces, where the size is the pitch diameter of a thread: its included angle in degrees. At 60 it grows by 4 times the thickness */
                    thread_angle?: number;
                    /**
                     * @description Share of the thickness by which a surface grows: 1 for a plated layer; about 0.5 where half of it grows into the metal, as with anodising
                     * @default 1
                     */
                    share?: number;
                };
                /** @description The size to aim at in this operation; absent: the middle, or what the plating brings to the feature's target */
                target?: number | string;
                /** @description Why they are others than the drawing's, such as "before grinding" */
                reason?: string;
            }[] | null;
            /** @description Which geometrical characteristic a `form` is, by its name in ISO 1101 */
            geometric_characteristic?: ("straightness" | "flatness" | "roundness" | "cylindricity" | "line_profile" | "surface_profile" | "parallelism" | "perpendicularity" | "angularity" | "concentricity" | "coaxiality" | "symmetry" | "circular_run_out" | "total_run_out") | null;
            /** @description Which parameter a `roughness` is, such as Ra or Rz */
            roughness_parameter?: string | null;
            /** @description What a limit gauge of a `go_no_go` is brought to: a plug into a bore or inside thread, a ring or snap gauge onto a shaft or outside thread */
            gauged?: ("bore" | "shaft" | "internal_thread" | "external_thread") | null;
            /** @description By which standard NO-GO is judged on a thread: `iso_metric`, it may go in by at most two turns; `unified`, it has to drag definitely on or before the third */
            thread_standard?: ("iso_metric" | "unified") | null;
            /** @description Of a position: whether its tolerance is stated at `maximum` or `least` material and grows with the departure of the size from it */
            material_condition?: ("none" | "maximum" | "least") | null;
            /** @description At maximum or least material: the feature whose size counts */
            size_of?: {
                /** @description Balloon number of an internal or external feature of this part */
                characteristic?: string | null;
                /** @description Or, where it is none of them: inside or outside */
                kind?: ("internal" | "external") | null;
                /** @description Its lower limit of size */
                lower_limit?: (number | string) | null;
                /** @description Its upper limit of size */
                upper_limit?: (number | string) | null;
            } | null;
            /** @description Of an angle with a general tolerance: length of its shorter leg, in the part's unit */
            shorter_leg?: (number | string) | null;
            /** @description Of a form with a general tolerance: the length that ISO 2768-2 goes by, in the part's unit: of a straight line its own, of a flat face its longer side or diameter, of a right angle its shorter leg, of a symmetry the shorter of the two features. Circular run-out needs none */
            toleranced_length?: (number | string) | null;
            /** @description On which side of its limits a piece can be reworked, where the kind does not say it: of an angle, form, roughness, count or visual. A roughness can `above` if nothing is said, the others on neither */
            rework?: ("above" | "below" | "either" | "neither") | null;
        };
        /**
         * @description A first-article report in the fields that SAE AS9102 asks for, in a layout of our own
         * @example {
         *       "first_article_id": "1",
         *       "part_id": "8",
         *       "part_number": "HB-2041",
         *       "revision": "B",
         *       "part_name": "Bearing housing",
         *       "report_number": "FA-31",
         *       "extent": "full",
         *       "reason": "first_production",
         *       "note": null,
         *       "baseline_id": null,
         *       "pieces": [
         *         {
         *           "batch_id": "3",
         *           "batch": "B-118",
         *           "operation": "20",
         *           "piece": 1
         *         }
         *       ],
         *       "fields": {
         *         "part_type": "detail",
         *         "purchase_order": "PO-881",
         *         "serial_number": "0001"
         *       },
         *       "decision_rules": [
         *         "Simple acceptance: a size inside or on its limits conforms, whatever the uncertainty of the gauge (ISO 14253-1 wants that agreed; JCGM 106)."
         *       ],
         *       "characteristics": [
         *         {
         *           "characteristic": "12",
         *           "name": "Tongue width",
         *           "drawing_zone": "sheet 2, B4",
         *           "designator": "key",
         *           "requirement": "6 ± 0.05",
         *           "unit": "mm",
         *           "results": [
         *             {
         *               "place": null,
         *               "result": "6.04",
         *               "allowed": null,
         *               "verdict": "conforming",
         *               "gauge": "micrometer 0-25 no. 3",
         *               "reading_id": "3-1"
         *             }
         *           ],
         *           "status": "conforming",
         *           "why": "Measured good.",
         *           "tooling": null,
         *           "nonconformance": null
         *         }
         *       ],
         *       "complete": true,
         *       "why": "Complete: 1 of 1 characteristics conform.",
         *       "still_open": [],
         *       "followed_by": [],
         *       "by": "quality",
         *       "created_at": "2026-03-02T09:00:00.000Z",
         *       "voided": null
         *     }
         */
        FirstArticle: {
            /** @description Identity */
            first_article_id: string;
            /** @description The part */
            part_id: string;
            /** @description Its number */
            part_number: string;
            /** @description Its revision */
            revision: string;
            /** @description Its name */
            part_name: string | null;
            /** @description Number of the report */
            report_number: string;
            /**
             * @description All characteristics, or those that a change may affect
             * @enum {string}
             */
            extent: "full" | "partial";
            /**
             * @description Why it is made: `first_production`: the part has not been made before; `design_change`: the drawing changed; `source_change`: another source makes it; `process_change`: the process changed; `inspection_method_change`: it is inspected in another way; `place_change`: it is made in another place; `tooling_change`: tooling changed; `material_change`: the material changed; `program_change`: the NC programme or its translation changed; `natural_or_man_made_event`: an event may have harmed the process; `corrective_action`: an earlier report left something to be put right; `lapse_in_production`: it was not made for two years; `other`: as the note says
             * @enum {string}
             */
            reason: "first_production" | "design_change" | "source_change" | "process_change" | "inspection_method_change" | "place_change" | "tooling_change" | "material_change" | "program_change" | "natural_or_man_made_event" | "corrective_action" | "lapse_in_production" | "other";
            /** @description What exactly */
            note: string | null;
            /** @description The first article that a partial one completes or updates */
            baseline_id: string | null;
            /** @description The part, in the batch of each operation */
            pieces: {
                /** @description The batch */
                batch_id: string;
                /** @description Its name */
                batch: string;
                /** @description Its operation */
                operation: string | null;
                /** @description The piece */
                piece: number;
            }[];
            /** @description What people filled in */
            fields: {
                [key: string]: unknown;
            };
            /** @description How it was decided what conforms */
            decision_rules: string[];
            /** @description Every characteristic that it covers, none left out */
            characteristics: {
                /** @description Balloon number */
                characteristic: string;
                /** @description Its name */
                name: string | null;
                /** @description Where on the drawing it stands */
                drawing_zone: string | null;
                /** @description How the drawing marks it; null: not */
                designator: ("key" | "critical") | null;
                /** @description What the drawing asks for */
                requirement: string;
                /** @description Unit of its results */
                unit: string | null;
                /** @description The reading that counts for each place */
                results: {
                    /** @description Where on the feature */
                    place: string | null;
                    /** @description As measured, not rounded; or whether it passed */
                    result: string;
                    /** @description What was allowed with the bonus that its size earned; null: what the drawing gives */
                    allowed: string | null;
                    /**
                     * @description By the decision rule
                     * @enum {string}
                     */
                    verdict: "conforming" | "nonconforming" | "uncertain";
                    /** @description Gauge that took it */
                    gauge: string | null;
                    /** @description The reading */
                    reading_id: string;
                }[];
                /**
                 * @description `conforming`: every place of it is measured good on this piece; `nonconforming`: it failed and no later cut is proved good; `open`: measured, but not decided; `not_measured`: this piece has no reading of it
                 * @enum {string}
                 */
                status: "conforming" | "nonconforming" | "open" | "not_measured";
                /** @description The same in words */
                why: string;
                /** @description Tooling made or qualified for it */
                tooling: string | null;
                /** @description Number of the nonconformance report: entered here, or with the decision about the piece */
                nonconformance: string | null;
            }[];
            /** @description True: every characteristic conforms here, or on a later partial one that builds on this */
            complete: boolean;
            /** @description Whether it is complete, and what is missing, in words */
            why: string;
            /** @description Balloon numbers that keep it from being complete */
            still_open: string[];
            /** @description Partial ones that build on it, oldest first */
            followed_by: {
                /** @description A partial one that builds on this */
                first_article_id: string;
                /** @description Its number */
                report_number: string;
            }[];
            /** @description Who entered it */
            by: string | null;
            /**
             * Format: date-time
             * @description When
             */
            created_at: string;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
        };
        /**
         * @description A first article: what is to be said beyond what was measured
         * @example {
         *       "part_id": "8",
         *       "report_number": "FA-31",
         *       "extent": "full",
         *       "reason": "first_production",
         *       "pieces": [
         *         {
         *           "batch_id": "3",
         *           "piece": 1
         *         }
         *       ],
         *       "remarks": [
         *         {
         *           "characteristic": "17",
         *           "tooling": "plug gauge PG-12"
         *         }
         *       ],
         *       "fields": {
         *         "purchase_order": "PO-881",
         *         "serial_number": "0001"
         *       },
         *       "by": "quality"
         *     }
         */
        FirstArticleCreate: {
            /** @description The part, at its revision */
            part_id: string;
            /** @description Number of the report; each only once */
            report_number: string;
            /**
             * @description All characteristics, or those that a change may affect
             * @enum {string}
             */
            extent: "full" | "partial";
            /**
             * @description Why it is made: `first_production`: the part has not been made before; `design_change`: the drawing changed; `source_change`: another source makes it; `process_change`: the process changed; `inspection_method_change`: it is inspected in another way; `place_change`: it is made in another place; `tooling_change`: tooling changed; `material_change`: the material changed; `program_change`: the NC programme or its translation changed; `natural_or_man_made_event`: an event may have harmed the process; `corrective_action`: an earlier report left something to be put right; `lapse_in_production`: it was not made for two years; `other`: as the note says
             * @enum {string}
             */
            reason: "first_production" | "design_change" | "source_change" | "process_change" | "inspection_method_change" | "place_change" | "tooling_change" | "material_change" | "program_change" | "natural_or_man_made_event" | "corrective_action" | "lapse_in_production" | "other";
            /** @description What exactly; needed where the reason is `other` */
            note?: string | null;
            /** @description Of a partial one: the first article that it completes or updates */
            baseline_id?: string | null;
            /** @description The very part: its piece number in the batch of each operation */
            pieces: {
                /** @description A batch of the part */
                batch_id: string;
                /** @description The piece of it */
                piece: number;
            }[];
            /** @description Of a partial one: the balloon numbers it covers */
            characteristics?: string[] | null;
            /**
             * @description Tooling and nonconformances by characteristic
             * @default []
             */
            remarks?: {
                /** @description Balloon number */
                characteristic: string;
                /** @description Tooling made or qualified for it, where it is accepted by pass or fail; no ordinary gauge */
                tooling?: string | null;
                /** @description Number of the nonconformance report, where it does not conform */
                nonconformance?: string | null;
            }[];
            /**
             * @description What people fill in about the part, its materials, processes and tests
             * @default {}
             */
            fields?: {
                /**
                 * @description A single part or an assembly
                 * @default detail
                 * @enum {string}
                 */
                part_type?: "detail" | "assembly";
                /** @description Serial number of the part */
                serial_number?: string | null;
                /** @description Number of the drawing; absent: the part's number */
                drawing_number?: string | null;
                /** @description Revision of the drawing; absent: the part's revision */
                drawing_revision?: string | null;
                /** @description Changes that count but are not yet in the drawing */
                additional_changes?: string | null;
                /** @description Number of the router, plan or programme by which it is made */
                process_reference?: string | null;
                /** @description Who makes it */
                organization?: string | null;
                /** @description The maker's code at the customer */
                supplier_code?: string | null;
                /** @description Number of the purchase order */
                purchase_order?: string | null;
                /** @description Of a partial one: number and revision of the part it builds on */
                baseline_part?: string | null;
                /**
                 * @description Materials
                 * @default []
                 */
                materials?: {
                    /** @description Material, process or treatment */
                    name: string;
                    /** @description Specification that it goes by */
                    specification?: string | null;
                    /** @description Code of the specification or of the customer */
                    code?: string | null;
                    /** @description Who supplies or does it */
                    supplier?: string | null;
                    /** @description Whether the customer approved the source */
                    customer_approved?: ("yes" | "no" | "not_applicable") | null;
                    /** @description Number of the certificate of conformance */
                    certificate?: string | null;
                }[];
                /**
                 * @description Special processes
                 * @default []
                 */
                processes?: {
                    /** @description Material, process or treatment */
                    name: string;
                    /** @description Specification that it goes by */
                    specification?: string | null;
                    /** @description Code of the specification or of the customer */
                    code?: string | null;
                    /** @description Who supplies or does it */
                    supplier?: string | null;
                    /** @description Whether the customer approved the source */
                    customer_approved?: ("yes" | "no" | "not_applicable") | null;
                    /** @description Number of the certificate of conformance */
                    certificate?: string | null;
                }[];
                /**
                 * @description Functional tests
                 * @default []
                 */
                functional_tests?: {
                    /** @description Number of the acceptance procedure */
                    procedure: string;
                    /** @description Number of the report */
                    report?: string | null;
                }[];
                /**
                 * @description Parts of the assembly
                 * @default []
                 */
                assembly_parts?: {
                    /** @description Number of a part of the assembly */
                    part_number: string;
                    /** @description Its name */
                    part_name?: string | null;
                    /** @description Its serial number */
                    serial_number?: string | null;
                    /** @description Number of its own first-article report */
                    report_number?: string | null;
                }[];
                /** @description What else is to be said */
                comments?: string | null;
            };
            /** @description Who enters it */
            by?: string | null;
        };
        /**
         * @description Whether a first article is due
         * @example {
         *       "part_id": "8",
         *       "due": true,
         *       "extent": "partial",
         *       "reasons": [
         *         {
         *           "reason": "lapse_in_production",
         *           "why": "The last piece was measured on 2024-01-10, 26 months before: after two years without production the first article is updated for the characteristics that the pause may affect."
         *         }
         *       ],
         *       "last_first_article_id": "1",
         *       "last_produced_at": "2024-01-10T09:00:00.000Z"
         *     }
         */
        FirstArticleDue: {
            /** @description The part */
            part_id: string;
            /** @description True: make one before the parts are delivered */
            due: boolean;
            /** @description Which; null: none is due */
            extent: ("full" | "partial") | null;
            /** @description What calls for it, as far as the service knows: what it does not know of, people have to judge */
            reasons: {
                /**
                 * @description Why it is made: `first_production`: the part has not been made before; `design_change`: the drawing changed; `source_change`: another source makes it; `process_change`: the process changed; `inspection_method_change`: it is inspected in another way; `place_change`: it is made in another place; `tooling_change`: tooling changed; `material_change`: the material changed; `program_change`: the NC programme or its translation changed; `natural_or_man_made_event`: an event may have harmed the process; `corrective_action`: an earlier report left something to be put right; `lapse_in_production`: it was not made for two years; `other`: as the note says
                 * @enum {string}
                 */
                reason: "first_production" | "design_change" | "source_change" | "process_change" | "inspection_method_change" | "place_change" | "tooling_change" | "material_change" | "program_change" | "natural_or_man_made_event" | "corrective_action" | "lapse_in_production" | "other";
                /** @description Why, in words */
                why: string;
            }[];
            /** @description The latest full one of this revision; null: none */
            last_first_article_id: string | null;
            /** @description When the last piece was measured; null: none was */
            last_produced_at: string | null;
        };
        /** @description One page of a list */
        FirstArticleList: {
            /** @description This page, oldest first */
            items: components["schemas"]["FirstArticleSummary"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A first article, without its characteristics
         * @example {
         *       "first_article_id": "1",
         *       "part_id": "8",
         *       "report_number": "FA-31",
         *       "extent": "full",
         *       "reason": "first_production",
         *       "baseline_id": null,
         *       "by": "quality",
         *       "created_at": "2026-03-02T09:00:00.000Z",
         *       "voided": null
         *     }
         */
        FirstArticleSummary: {
            /** @description Identity */
            first_article_id: string;
            /** @description The part */
            part_id: string;
            /** @description Number of the report */
            report_number: string;
            /**
             * @description All characteristics, or those that a change may affect
             * @enum {string}
             */
            extent: "full" | "partial";
            /**
             * @description Why it is made: `first_production`: the part has not been made before; `design_change`: the drawing changed; `source_change`: another source makes it; `process_change`: the process changed; `inspection_method_change`: it is inspected in another way; `place_change`: it is made in another place; `tooling_change`: tooling changed; `material_change`: the material changed; `program_change`: the NC programme or its translation changed; `natural_or_man_made_event`: an event may have harmed the process; `corrective_action`: an earlier report left something to be put right; `lapse_in_production`: it was not made for two years; `other`: as the note says
             * @enum {string}
             */
            reason: "first_production" | "design_change" | "source_change" | "process_change" | "inspection_method_change" | "place_change" | "tooling_change" | "material_change" | "program_change" | "natural_or_man_made_event" | "corrective_action" | "lapse_in_production" | "other";
            /** @description The first article that a partial one builds on */
            baseline_id: string | null;
            /** @description Who entered it */
            by: string | null;
            /**
             * Format: date-time
             * @description When
             */
            created_at: string;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
        };
        /**
         * @description A gauge
         * @example {
         *       "gauge_id": "5",
         *       "name": "micrometer 0-25 no. 3",
         *       "kind": "micrometer",
         *       "unit": "mm",
         *       "resolution": 0.001,
         *       "repeatability": 0.0012,
         *       "expanded_uncertainty": 0.003,
         *       "coverage_factor": 2,
         *       "calibration_due": "2027-03-01",
         *       "reference": true,
         *       "reads": "size",
         *       "master_size": null,
         *       "sense": null,
         *       "material": "steel",
         *       "minutes_per_reading": 0.5,
         *       "expansion_coefficient": 11.5,
         *       "expansion_uncertainty": 0.5508,
         *       "expansion_from": "material",
         *       "created_at": "2026-03-02T06:20:00.000Z"
         *     }
         */
        Gauge: {
            /** @description Identity of the gauge */
            gauge_id: string;
            /** @description What the shop calls it */
            name: string;
            /**
             * @description Sort of gauge
             * @enum {string}
             */
            kind: "calliper" | "micrometer" | "bore_gauge" | "height_gauge" | "plug_gauge" | "ring_gauge" | "snap_gauge" | "thread_gauge" | "protractor" | "roughness_tester" | "form_tester" | "machine_probe" | "coordinate_machine" | "other";
            /**
             * @description Its unit, `deg` for one that measures angles; every size of the gauge is in it. What measures lengths and angles is entered once for each
             * @enum {string}
             */
            unit: "mm" | "inch" | "deg";
            /** @description The smallest step it shows. A limit gauge, which passes or refuses, has none and then measures nothing else */
            resolution: number | null;
            /** @description Standard deviation of readings of the same piece, taken one after the other */
            repeatability: number | null;
            /** @description Expanded uncertainty U of a reading */
            expanded_uncertainty: number | null;
            /** @description Coverage factor k that goes with the expanded uncertainty */
            coverage_factor: number;
            /** @description The last day on which its calibration holds */
            calibration_due: string | null;
            /** @description Whether it may prove a size. A probe in the machine that cut the piece may not, since it shares the machine's errors */
            reference: boolean;
            /**
             * @description What it shows: the size itself, or the deviation from the master it was set to
             * @enum {string}
             */
            reads: "size" | "deviation";
            /** @description Size of the master that it is set to; only for one that shows a deviation, and needed there */
            master_size: number | null;
            /** @description `reversed` where a larger piece makes it show less; only for one that shows a deviation */
            sense: ("normal" | "reversed") | null;
            /** @description What its scale or frame, or its master, is made of: a name that GET /v1/materials lists gives its coefficient of expansion. Nothing is assumed where it is not said */
            material: string | null;
            /** @description How many minutes a reading with it takes, fetching and setting it included; for planning ahead. Nothing is assumed where it is not said */
            minutes_per_reading: number | null;
            /** @description Coefficient of linear expansion that counts, µm per metre and kelvin: the one given, else that of the material; null: not known */
            expansion_coefficient: number | null;
            /** @description Its standard uncertainty, in the same unit */
            expansion_uncertainty: number | null;
            /** @description Where it comes from: `given` as a number, or known of the `material` */
            expansion_from: ("given" | "material") | null;
            /**
             * Format: date-time
             * @description When it was set up
             */
            created_at: string;
        };
        /**
         * @description What changes about a gauge, in the gauge's unit; what is absent stays, and null takes a value away
         * @example {
         *       "calibration_due": "2028-03-01",
         *       "expanded_uncertainty": 0.0025
         *     }
         */
        GaugeChange: {
            /** @description The smallest step it shows. A limit gauge, which passes or refuses, has none and then measures nothing else */
            resolution?: number | string;
            /** @description Standard deviation of readings of the same piece, taken one after the other */
            repeatability?: number | string | null;
            /** @description Expanded uncertainty U of a reading */
            expanded_uncertainty?: number | string | null;
            /** @description Coverage factor k that goes with the expanded uncertainty */
            coverage_factor?: number;
            /** @description The last day on which its calibration holds */
            calibration_due?: string | null;
            /** @description Whether it may prove a size. A probe in the machine that cut the piece may not, since it shares the machine's errors */
            reference?: boolean;
            /** @description What its scale or frame, or its master, is made of: a name that GET /v1/materials lists gives its coefficient of expansion. Nothing is assumed where it is not said */
            material?: string | null;
            /** @description How many minutes a reading with it takes, fetching and setting it included; for planning ahead. Nothing is assumed where it is not said */
            minutes_per_reading?: number | null;
            /** @description Its coefficient of linear expansion near 20 °C, µm per metre and kelvin (10⁻⁶ per kelvin): steel 11.5. Absent: that of `material`, where GET /v1/materials lists it */
            expansion_coefficient?: (number | string) | null;
            /** @description Standard uncertainty of that coefficient; one known to ± a counts as a / √3. Absent: a tenth of the coefficient counts as that a */
            expansion_uncertainty?: (number | string) | null;
        };
        /**
         * @description A gauge read on a standard, and what that says of it
         * @example {
         *       "gauge_check_id": "4",
         *       "gauge_id": "5",
         *       "at": "2026-03-02T06:00:00.000Z",
         *       "unit": "mm",
         *       "standard": 25,
         *       "standard_uncertainty": 0,
         *       "reading": 25.003,
         *       "error": 0.003,
         *       "direction_known": true,
         *       "allowed_error": 0.003,
         *       "state": "fit",
         *       "shift": false,
         *       "why": "micrometer 0-25 no. 3 reads 0.003 mm too big on 25.000 mm; up to 0.003 mm is what its uncertainty leaves open: fit.",
         *       "note": null,
         *       "by": "shift A",
         *       "created_at": "2026-03-02T06:00:10.000Z",
         *       "voided": null
         *     }
         */
        GaugeCheck: {
            /** @description Identity of the check */
            gauge_check_id: string;
            /** @description The gauge */
            gauge_id: string;
            /**
             * Format: date-time
             * @description When it was checked
             */
            at: string;
            /**
             * @description Unit of all sizes here, as they came
             * @enum {string}
             */
            unit: "mm" | "µm" | "inch" | "deg" | "arcmin" | "arcsec";
            /** @description Size of the standard: gauge block, setting ring or master */
            standard: number | null;
            /** @description Expanded uncertainty (k = 2) of the standard by its certificate */
            standard_uncertainty: number;
            /** @description What the gauge showed on it; for a gauge that shows a deviation that deviation */
            reading: number | null;
            /** @description Reading less standard; the largest error where its direction is not known */
            error: number;
            /** @description False: the error may be either way */
            direction_known: boolean;
            /** @description Up to this an error says nothing: expanded uncertainties of gauge and standard in quadrature, at least one step of the display */
            allowed_error: number;
            /**
             * @description `off`: the error is above the allowed one
             * @enum {string}
             */
            state: "fit" | "off";
            /** @description The error is taken off what the gauge reads from `at` on, until its next check: for readings that come after this check has been entered */
            shift: boolean;
            /** @description The same in words, and what to do */
            why: string;
            /** @description What is worth keeping about it */
            note: string | null;
            /** @description Who checked it */
            by: string | null;
            /**
             * Format: date-time
             * @description When it was entered
             */
            created_at: string;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
        };
        /**
         * @description A check of a gauge with what it leaves in doubt
         * @example {
         *       "gauge_check_id": "4",
         *       "gauge_id": "5",
         *       "at": "2026-03-02T06:00:00.000Z",
         *       "unit": "mm",
         *       "standard": 25,
         *       "standard_uncertainty": 0,
         *       "reading": 25.003,
         *       "error": 0.003,
         *       "direction_known": true,
         *       "allowed_error": 0.003,
         *       "state": "fit",
         *       "shift": false,
         *       "why": "micrometer 0-25 no. 3 reads 0.003 mm too big on 25.000 mm; up to 0.003 mm is what its uncertainty leaves open: fit.",
         *       "note": null,
         *       "by": "shift A",
         *       "created_at": "2026-03-02T06:00:10.000Z",
         *       "voided": null,
         *       "in_doubt": {
         *         "since": null,
         *         "readings": 0,
         *         "turned": 0,
         *         "open": 0,
         *         "batches": [],
         *         "more_batches": 0
         *       }
         *     }
         */
        GaugeCheckAnswer: {
            /** @description Identity of the check */
            gauge_check_id: string;
            /** @description The gauge */
            gauge_id: string;
            /**
             * Format: date-time
             * @description When it was checked
             */
            at: string;
            /**
             * @description Unit of all sizes here, as they came
             * @enum {string}
             */
            unit: "mm" | "µm" | "inch" | "deg" | "arcmin" | "arcsec";
            /** @description Size of the standard: gauge block, setting ring or master */
            standard: number | null;
            /** @description Expanded uncertainty (k = 2) of the standard by its certificate */
            standard_uncertainty: number;
            /** @description What the gauge showed on it; for a gauge that shows a deviation that deviation */
            reading: number | null;
            /** @description Reading less standard; the largest error where its direction is not known */
            error: number;
            /** @description False: the error may be either way */
            direction_known: boolean;
            /** @description Up to this an error says nothing: expanded uncertainties of gauge and standard in quadrature, at least one step of the display */
            allowed_error: number;
            /**
             * @description `off`: the error is above the allowed one
             * @enum {string}
             */
            state: "fit" | "off";
            /** @description The error is taken off what the gauge reads from `at` on, until its next check: for readings that come after this check has been entered */
            shift: boolean;
            /** @description The same in words, and what to do */
            why: string;
            /** @description What is worth keeping about it */
            note: string | null;
            /** @description Who checked it */
            by: string | null;
            /**
             * Format: date-time
             * @description When it was entered
             */
            created_at: string;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
            /** @description What the check leaves in doubt; GET …/checks/{gauge_check_id}/readings lists the readings */
            in_doubt: {
                /** @description The check before this one; null: there was none, so everything that the gauge has read */
                since: string | null;
                /** @description How many readings are in doubt (flag `gauge_in_doubt`) */
                readings: number;
                /** @description How many of them change sides: inside the limits with the error, outside without, or the other way */
                turned: number;
                /** @description How many of them may be inside or outside, as the direction is not known */
                open: number;
                /** @description Batches that they are in, latest first; at most 100 */
                batches: {
                    /** @description Batch */
                    batch_id: string;
                    /** @description Its name */
                    batch: string;
                    /** @description Its part */
                    part_number: string;
                    /** @description Revision of the part */
                    revision: string;
                    /** @description Readings in doubt */
                    readings: number;
                    /** @description Pieces that they are of */
                    pieces: number;
                    /** @description First of them */
                    first_piece: number;
                    /** @description Last of them */
                    last_piece: number;
                    /** @description Readings that change sides */
                    turned: number;
                    /** @description Readings that may be inside or outside */
                    open: number;
                    /** @description True: its pieces may have left the shop */
                    closed: boolean;
                }[];
                /** @description How many batches there are besides */
                more_batches: number;
            };
        };
        /**
         * @description A gauge read on a standard
         * @example {
         *       "at": "2026-03-02T06:00:00Z",
         *       "standard": 25,
         *       "reading": 25.003,
         *       "unit": "mm",
         *       "by": "shift A"
         *     }
         */
        GaugeCheckCreate: {
            /**
             * Format: date-time
             * @description When it was checked; absent: now
             */
            at?: string;
            /** @description Size of the standard: gauge block, setting ring or master */
            standard?: number | string;
            /** @description Expanded uncertainty (k = 2) of the standard by its certificate; absent: taken as exact */
            standard_uncertainty?: number | string;
            /** @description What the gauge showed on it; for a gauge that shows a deviation that deviation */
            reading?: number | string;
            /** @description Instead of standard and reading, as after a calibration elsewhere: the largest error found, of which the direction is not known */
            largest_error?: number | string;
            /**
             * @description Unit of all sizes here: mm, um or inch, of a gauge of angles deg, arcmin or arcsec
             * @enum {string}
             */
            unit: "mm" | "inch" | "in" | "um" | "µm" | "μm" | "deg" | "arcmin" | "arcsec";
            /**
             * @description The error is taken off what the gauge reads from `at` on, until its next check: for readings that come after this check has been entered
             * @default false
             */
            shift?: boolean;
            /** @description What is worth keeping about it */
            note?: string | null;
            /** @description Who checked it */
            by?: string | null;
        };
        /** @description One page of a list */
        GaugeCheckList: {
            /** @description This page, latest first */
            items: components["schemas"]["GaugeCheck"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description Two gauges on the same pieces
         * @example {
         *       "gauge_id": "7",
         *       "with": "5",
         *       "unit": "mm",
         *       "pairs": 4,
         *       "left_out": 0,
         *       "bias": 0.003,
         *       "bias_limits": [
         *         0.00124,
         *         0.00476
         *       ],
         *       "bias_chance": 0.0124,
         *       "standard_deviation": 0.0011045361,
         *       "lower_limit_of_agreement": 0.00083510925,
         *       "lower_limit_limits": [
         *         -0.00219,
         *         0.00386
         *       ],
         *       "upper_limit_of_agreement": 0.0051648908,
         *       "upper_limit_limits": [
         *         0.00214,
         *         0.00819
         *       ],
         *       "by_size": {
         *         "slope": 0.01,
         *         "slope_limits": [
         *           -0.3,
         *           0.32
         *         ],
         *         "slope_chance": 0.9
         *       },
         *       "why": "probe of mill 1 reads 0.003 mm more than coordinate machine in the mean of 4 pieces, more than chance makes. Of 100 pieces about 95 differ by 0.0008 mm to 0.0052 mm. 4 pieces are few: 30 or more are usual."
         *     }
         */
        GaugeComparison: {
            /** @description The gauge that is compared */
            gauge_id: string;
            /** @description The gauge that it is compared with */
            with: string;
            /**
             * @description Unit of all sizes here: that of `gauge_id`
             * @enum {string}
             */
            unit: "mm" | "inch" | "deg";
            /** @description Pieces that both have read, by feature, cut and place; repeats count as their mean */
            pairs: number;
            /** @description How many older pairs there are besides */
            left_out: number;
            /** @description Mean of its readings less those of the other; null: fewer than 2 pairs */
            bias: number | null;
            /** @description Limits of the bias at 95 % confidence */
            bias_limits: number[] | null;
            /** @description Chance of a bias that large where there is none */
            bias_chance: number | null;
            /** @description Standard deviation of the differences */
            standard_deviation: number | null;
            /** @description Bias less 1.96 standard deviations; about 95 % of the differences lie between the two limits */
            lower_limit_of_agreement: number | null;
            /** @description Its limits at 95 % confidence */
            lower_limit_limits: number[] | null;
            /** @description Bias plus 1.96 standard deviations */
            upper_limit_of_agreement: number | null;
            /** @description Its limits at 95 % confidence */
            upper_limit_limits: number[] | null;
            /** @description Whether the difference depends on the size; null: too few pairs or one size */
            by_size: {
                /** @description Change of the difference per unit of size */
                slope: number;
                /** @description Lower and upper limit at 95 % confidence */
                slope_limits: number[];
                /** @description Chance of a slope that large where there is none; null: nothing scatters */
                slope_chance: number | null;
            } | null;
            /** @description The same in words */
            why: string;
        };
        /**
         * @description A gauge to be set up
         * @example {
         *       "name": "micrometer 0-25 no. 3",
         *       "kind": "micrometer",
         *       "unit": "mm",
         *       "resolution": 0.001,
         *       "repeatability": 0.0012,
         *       "expanded_uncertainty": 0.003,
         *       "coverage_factor": 2,
         *       "calibration_due": "2027-03-01",
         *       "reference": true,
         *       "material": "steel"
         *     }
         */
        GaugeCreate: {
            /** @description What the shop calls it; no other gauge may have this name */
            name: string;
            /**
             * @description Sort of gauge
             * @enum {string}
             */
            kind: "calliper" | "micrometer" | "bore_gauge" | "height_gauge" | "plug_gauge" | "ring_gauge" | "snap_gauge" | "thread_gauge" | "protractor" | "roughness_tester" | "form_tester" | "machine_probe" | "coordinate_machine" | "other";
            /**
             * @description Its unit, `deg` for one that measures angles; every size of the gauge is in it. What measures lengths and angles is entered once for each
             * @enum {string}
             */
            unit: "mm" | "inch" | "deg";
            /** @description The smallest step it shows. A limit gauge, which passes or refuses, has none and then measures nothing else */
            resolution?: number | string | null;
            /** @description Standard deviation of readings of the same piece, taken one after the other */
            repeatability?: number | string | null;
            /** @description Expanded uncertainty U of a reading */
            expanded_uncertainty?: number | string | null;
            /**
             * @description Coverage factor k that goes with the expanded uncertainty
             * @default 2
             */
            coverage_factor?: number;
            /** @description The last day on which its calibration holds */
            calibration_due?: string | null;
            /** @description Whether it may prove a size. A probe in the machine that cut the piece may not, since it shares the machine's errors. Absent: true, for a machine_probe false */
            reference?: boolean;
            /**
             * @description What it shows: the size itself, or the deviation from the master it was set to
             * @default size
             * @enum {string}
             */
            reads?: "size" | "deviation";
            /** @description Size of the master that it is set to; only for one that shows a deviation, and needed there */
            master_size?: number | string | null;
            /** @description `reversed` where a larger piece makes it show less; only for one that shows a deviation; absent: `normal` */
            sense?: ("normal" | "reversed") | null;
            /** @description What its scale or frame, or its master, is made of: a name that GET /v1/materials lists gives its coefficient of expansion. Nothing is assumed where it is not said */
            material?: string | null;
            /** @description How many minutes a reading with it takes, fetching and setting it included; for planning ahead. Nothing is assumed where it is not said */
            minutes_per_reading?: number | null;
            /** @description Its coefficient of linear expansion near 20 °C, µm per metre and kelvin (10⁻⁶ per kelvin): steel 11.5. Absent: that of `material`, where GET /v1/materials lists it */
            expansion_coefficient?: (number | string) | null;
            /** @description Standard uncertainty of that coefficient; one known to ± a counts as a / √3. Absent: a tenth of the coefficient counts as that a */
            expansion_uncertainty?: (number | string) | null;
        };
        /** @description One page of a list */
        GaugeList: {
            /** @description This page, oldest first */
            items: components["schemas"]["Gauge"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description What a gauge has measured of a feature in a batch
         * @example {
         *       "batch_id": "3",
         *       "batch": "B-118",
         *       "part_number": "HB-2041",
         *       "revision": "B",
         *       "feature_id": "12",
         *       "characteristic": "12",
         *       "from_piece": 1,
         *       "to_piece": 120,
         *       "readings": 34,
         *       "first_at": "2026-03-02T07:41:00.000Z",
         *       "last_at": "2026-03-02T13:05:00.000Z"
         *     }
         */
        GaugePieces: {
            /** @description The batch */
            batch_id: string;
            /** @description Its name */
            batch: string;
            /** @description Drawing number of its part */
            part_number: string;
            /** @description Revision of the drawing */
            revision: string;
            /** @description Feature measured */
            feature_id: string;
            /** @description Its balloon number */
            characteristic: string;
            /** @description First piece on which it was */
            from_piece: number;
            /** @description Last piece on which it was */
            to_piece: number;
            /** @description How many readings, voided ones among them */
            readings: number;
            /**
             * Format: date-time
             * @description When the first of them was taken
             */
            first_at: string;
            /**
             * Format: date-time
             * @description When the last of them was
             */
            last_at: string;
        };
        /** @description One page of a list: what 5000 readings amount to */
        GaugePiecesList: {
            /** @description What the readings of this page are of, in the order of time */
            items: components["schemas"]["GaugePieces"][];
            /** @description Send it as `cursor` for the next 5000 readings; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A study of a gauge and what it came to
         * @example {
         *       "gauge_study_id": "3",
         *       "gauge_id": "5",
         *       "kind": "one_part",
         *       "unit": "mm",
         *       "tolerance": 0.05,
         *       "readings": 6,
         *       "verdict": "fit",
         *       "why": "It reads 0.0017 mm too big in the mean of 6, more than chance makes, and repeats within a standard deviation of 0.0008 mm. Cgk 1.36 is at least 1.33: fit. 6 readings are few: 50 are usual, 25 the usual least.",
         *       "repeatability": 0.00081649658,
         *       "repeatability_limits": [
         *         0.00050966,
         *         0.0020025
         *       ],
         *       "bias": 0.0016666667,
         *       "crossed": null,
         *       "one_part": {
         *         "mean": 25.001667,
         *         "bias_limits": [
         *           0.00080981,
         *           0.0025235
         *         ],
         *         "bias_chance": 0.0041,
         *         "cg": 2.0412415,
         *         "cgk": 1.3608276
         *       },
         *       "linearity": null,
         *       "note": null,
         *       "by": "measuring room",
         *       "created_at": "2026-03-02T06:00:10.000Z",
         *       "accepted": {
         *         "at": "2026-03-02T06:10:00.000Z",
         *         "by": "measuring room",
         *         "repeatability_before": 0.0012
         *       },
         *       "voided": null
         *     }
         */
        GaugeStudy: {
            /** @description Identity of the study */
            gauge_study_id: string;
            /** @description The gauge */
            gauge_id: string;
            /**
             * @description `crossed`: every operator reads every part as often (repeatability and reproducibility). `one_part`: one part or standard of known size, read over and over (bias and repeatability). `linearity`: several standards over the range
             * @enum {string}
             */
            kind: "crossed" | "one_part" | "linearity";
            /**
             * @description Unit of all sizes here
             * @enum {string}
             */
            unit: "mm" | "inch" | "µm" | "deg";
            /** @description Width of the tolerance that the gauge is wanted for; null: not given */
            tolerance: number | null;
            /** @description How many readings it rests on */
            readings: number;
            /** @description By the limits that were asked for; null: nothing to judge by */
            verdict: ("fit" | "conditional" | "unfit") | null;
            /** @description The same in words, with the limits */
            why: string;
            /** @description Standard deviation of repeatability; what the gauge is given when the study is accepted */
            repeatability: number;
            /** @description Its limits at 95 % confidence (chi-square); null: not given for linearity */
            repeatability_limits: number[] | null;
            /** @description Mean of readings less reference; null: no reference */
            bias: number | null;
            /** @description Repeatability and reproducibility; null: another kind */
            crossed: {
                /** @description Parts */
                parts: number;
                /** @description Operators */
                operators: number;
                /** @description Trials */
                trials: number;
                /** @description Table of the analysis of variance; of one operator the middle two are null */
                table: {
                    /** @description Between the parts */
                    parts: {
                        /** @description Degrees of freedom */
                        degrees: number;
                        /** @description Sum of squares, in the unit squared */
                        sum_of_squares: number;
                        /** @description Mean square, in the unit squared */
                        mean_square: number;
                    };
                    /** @description Between the operators */
                    operators: {
                        /** @description Degrees of freedom */
                        degrees: number;
                        /** @description Sum of squares, in the unit squared */
                        sum_of_squares: number;
                        /** @description Mean square, in the unit squared */
                        mean_square: number;
                    } | null;
                    /** @description Operators and parts together */
                    interaction: {
                        /** @description Degrees of freedom */
                        degrees: number;
                        /** @description Sum of squares, in the unit squared */
                        sum_of_squares: number;
                        /** @description Mean square, in the unit squared */
                        mean_square: number;
                    } | null;
                    /** @description Within the cells */
                    repeatability: {
                        /** @description Degrees of freedom */
                        degrees: number;
                        /** @description Sum of squares, in the unit squared */
                        sum_of_squares: number;
                        /** @description Mean square, in the unit squared */
                        mean_square: number;
                    };
                };
                /** @description Chance of an interaction that large where there is none; null: not to be tested */
                interaction_chance: number | null;
                /** @description Whether it was pooled */
                pooled: boolean;
                /** @description Why, in a sentence */
                rule: string;
                /** @description By analysis of variance: what the verdict goes by */
                analysis_of_variance: {
                    /** @description Standard deviation of one operator on one part (equipment variation) */
                    repeatability: number;
                    /** @description Standard deviation between operators, their interaction with parts included (appraiser variation) */
                    reproducibility: number;
                    /** @description Both together (GRR) */
                    gauge: number;
                    /** @description Standard deviation between the parts */
                    parts: number;
                    /** @description All together */
                    total: number;
                    /** @description gauge over total in percent; null: nothing varies */
                    percent_of_study: number | null;
                    /** @description `spread` times gauge over the tolerance in percent; null: no tolerance */
                    percent_of_tolerance: number | null;
                    /** @description Classes of these parts that it tells apart, 1.41 parts over gauge rounded down; null: the gauge does not vary */
                    distinct_categories: number | null;
                    /** @description Lower and upper limit at 95 % confidence */
                    gauge_limits: number[];
                };
                /** @description By average and range, for comparison */
                average_and_range: {
                    /** @description Standard deviation of one operator on one part (equipment variation) */
                    repeatability: number;
                    /** @description Standard deviation between operators, their interaction with parts included (appraiser variation) */
                    reproducibility: number;
                    /** @description Both together (GRR) */
                    gauge: number;
                    /** @description Standard deviation between the parts */
                    parts: number;
                    /** @description All together */
                    total: number;
                    /** @description gauge over total in percent; null: nothing varies */
                    percent_of_study: number | null;
                    /** @description `spread` times gauge over the tolerance in percent; null: no tolerance */
                    percent_of_tolerance: number | null;
                    /** @description Classes of these parts that it tells apart, 1.41 parts over gauge rounded down; null: the gauge does not vary */
                    distinct_categories: number | null;
                };
            } | null;
            /** @description One part of known size; null: another kind */
            one_part: {
                /** @description Mean of the readings */
                mean: number;
                /** @description Lower and upper limit at 95 % confidence */
                bias_limits: number[];
                /** @description Chance of a value that far from 0 if it were 0; null: nothing scatters */
                bias_chance: number | null;
                /** @description Share of the tolerance over the spread; null: no tolerance, or nothing scatters */
                cg: number | null;
                /** @description The same with the bias taken off */
                cgk: number | null;
            } | null;
            /** @description Error over the range; null: another kind */
            linearity: {
                /** @description Change of the error per unit of size */
                slope: number;
                /** @description Lower and upper limit at 95 % confidence */
                slope_limits: number[];
                /** @description Chance of a value that far from 0 if it were 0; null: nothing scatters */
                slope_chance: number | null;
                /** @description Error at size 0 by the line */
                intercept: number;
                /** @description Lower and upper limit at 95 % confidence */
                intercept_limits: number[];
                /** @description Chance of a value that far from 0 if it were 0; null: nothing scatters */
                intercept_chance: number | null;
                /** @description Share of the scatter that the line explains; null: nothing varies */
                r_squared: number | null;
                /** @description By standards, smallest first */
                points: {
                    /** @description Size of the standard */
                    reference: number;
                    /** @description How often it was read */
                    readings: number;
                    /** @description Mean error there */
                    bias: number;
                    /** @description Error by the line */
                    line: number;
                    /** @description Lower and upper limit at 95 % confidence */
                    line_limits: number[];
                }[];
            } | null;
            /** @description What is worth keeping about it */
            note: string | null;
            /** @description Who entered it */
            by: string | null;
            /**
             * Format: date-time
             * @description When it was entered
             */
            created_at: string;
            /** @description Set where somebody has accepted it: its repeatability is the gauge's from then on */
            accepted: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Who */
                by: string;
                /** @description The gauge's repeatability until then; null: none was known */
                repeatability_before: number | null;
            } | null;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
        };
        /**
         * @description Takes the study's repeatability for the gauge
         * @example {
         *       "by": "measuring room"
         *     }
         */
        GaugeStudyAccept: {
            /** @description Who accepts it */
            by: string;
        };
        /**
         * @description A study of a gauge, all readings in one go
         * @example {
         *       "kind": "one_part",
         *       "unit": "mm",
         *       "tolerance": 0.05,
         *       "reference": 25,
         *       "readings": [
         *         {
         *           "value": 25.001
         *         },
         *         {
         *           "value": 25.002
         *         },
         *         {
         *           "value": 25.001
         *         }
         *       ],
         *       "by": "measuring room"
         *     }
         */
        GaugeStudyCreate: {
            /**
             * @description `crossed`: every operator reads every part as often (repeatability and reproducibility). `one_part`: one part or standard of known size, read over and over (bias and repeatability). `linearity`: several standards over the range
             * @default crossed
             * @enum {string}
             */
            kind?: "crossed" | "one_part" | "linearity";
            /**
             * @description Unit of all sizes here
             * @enum {string}
             */
            unit: "mm" | "inch" | "um" | "deg";
            /** @description Width of the tolerance that the gauge is wanted for; absent: judged by the spread of the parts */
            tolerance?: number | string;
            /** @description Size of the part by its certificate; needed for `one_part`, where it belongs */
            reference?: number | string;
            /** @description The readings, all of them or none are taken */
            readings: {
                /** @description Who read it; `crossed` only, absent: who took the stored reading, else one and the same */
                operator?: string;
                /** @description Which part was read; needed for `crossed`, absent with `reading_id`: its piece and feature */
                part?: string;
                /** @description Which of the reader's trials on the part it was; each may stand once */
                trial?: number;
                /** @description Size of the standard that was read; needed for `linearity` */
                reference?: number | string;
                /** @description The size that was read */
                value?: number | string;
                /** @description Instead of a value: a stored reading of this gauge, with its size as it was kept and judged */
                reading_id?: string;
            }[];
            /**
             * @description Whether the interaction of operators and parts is pooled into repeatability: `by_test` where chance alone makes one as large with a probability above `pool_above`
             * @default by_test
             * @enum {string}
             */
            interaction?: "by_test" | "kept" | "pooled";
            /**
             * @description Probability above which an interaction is pooled (common practice)
             * @default 0.25
             */
            pool_above?: number;
            /**
             * @description Share of the tolerance in Cg and Cgk (common practice)
             * @default 0.2
             */
            share?: number;
            /**
             * @description How many standard deviations count as the gauge's spread
             * @default 6
             */
            spread?: number;
            /**
             * @description Cg and Cgk that are enough (common practice)
             * @default 1.33
             */
            least_index?: number;
            /**
             * @description Limits of the verdict in percent (common practice: 10 and 30)
             * @default {
             *       "fit": 10,
             *       "conditional": 30
             *     }
             */
            limits?: {
                /** @description Up to this share it is `fit` */
                fit: number;
                /** @description Up to this share it is `conditional`, above it `unfit` */
                conditional: number;
            };
            /** @description What is worth keeping about it */
            note?: string | null;
            /** @description Who entered it */
            by?: string | null;
        };
        /** @description One page of a list */
        GaugeStudyList: {
            /** @description This page, latest first */
            items: components["schemas"]["GaugeStudy"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description The service works
         * @example {
         *       "status": "ok"
         *     }
         */
        Health: {
            /**
             * @description Always `ok`; what is not ok is answered as a problem
             * @constant
             */
            status: "ok";
        };
        /**
         * @description Pieces of one feature in doubt
         * @example {
         *       "feature_id": "12",
         *       "characteristic": "12",
         *       "name": "Tongue width",
         *       "place": null,
         *       "seat": null,
         *       "state": "open",
         *       "from_piece": 41,
         *       "to_piece": 50,
         *       "why": "Piece 50 failed; piece 40 is the last good one before, and piece 51 the first good one after: pieces 41 to 50 are in doubt.",
         *       "good_before": 40,
         *       "good_after": 51,
         *       "pieces": 10,
         *       "open": [
         *         {
         *           "from_piece": 41,
         *           "to_piece": 50
         *         }
         *       ],
         *       "decided": [],
         *       "bad": [
         *         {
         *           "from_piece": 50,
         *           "to_piece": 50
         *         }
         *       ],
         *       "because": [
         *         {
         *           "piece": 50,
         *           "reading_ids": [
         *             "3-61"
         *           ],
         *           "contradicted_by": [],
         *           "by_reference": true
         *         }
         *       ],
         *       "measure_next": [
         *         {
         *           "piece": 45,
         *           "gauge_id": "5",
         *           "gauge": "micrometer 0-25 no. 3",
         *           "rule": "halve",
         *           "at_most": 4,
         *           "why": "Measure piece 45 with micrometer 0-25 no. 3: half way between good and bad. 4 readings at most on this side, if drift or one jump lies behind it."
         *         }
         *       ],
         *       "each": []
         *     }
         */
        Hold: {
            /** @description The feature */
            feature_id: string;
            /** @description Its balloon number */
            characteristic: string;
            /** @description Its name */
            name: string | null;
            /** @description Where on the feature; null: it has no places */
            place: string | null;
            /** @description Seat in the fixture: only its pieces are meant, since no seat speaks for another; null: no seats */
            seat: string | null;
            /**
             * @description `open`: pieces of it are neither proved good nor settled; `decided`: all that is left of it is settled by decisions; `released`: readings have released every piece
             * @enum {string}
             */
            state: "open" | "decided" | "released";
            /** @description First piece after the last good one before the first bad piece */
            from_piece: number;
            /** @description Last piece before the first good one after it, else the last one cut */
            to_piece: number;
            /** @description Why there is a hold, in words */
            why: string;
            /** @description Last piece before it that was good as it left the machine; null: none */
            good_before: number | null;
            /** @description First such piece after it; null: none yet */
            good_after: number | null;
            /** @description How many pieces of it are on hold */
            pieces: number;
            /** @description Pieces of it that are on hold: neither good by themselves nor settled */
            open: {
                /** @description First piece, in cutting order */
                from_piece: number;
                /** @description Last piece, itself included */
                to_piece: number;
            }[];
            /** @description Pieces of it that are settled by a decision */
            decided: {
                /** @description First piece, in cutting order */
                from_piece: number;
                /** @description Last piece, itself included */
                to_piece: number;
            }[];
            /** @description Pieces that failed */
            bad: {
                /** @description First piece, in cutting order */
                from_piece: number;
                /** @description Last piece, itself included */
                to_piece: number;
            }[];
            /** @description The readings that caused it: those of the first 50 pieces that failed */
            because: {
                /** @description A piece that failed */
                piece: number;
                /** @description Its failing readings */
                reading_ids: string[];
                /** @description Good readings of the same cut by a gauge that may prove it */
                contradicted_by: string[];
                /** @description True: one of them by a gauge that may prove a size */
                by_reference: boolean;
            }[];
            /** @description What to measure next to release the most with the fewest readings */
            measure_next: {
                /** @description The piece to measure */
                piece: number;
                /** @description Gauge that may prove it; null: none is entered */
                gauge_id: string | null;
                /** @description Its name */
                gauge: string | null;
                /**
                 * @description `confirm`: only gauges that prove nothing have failed it; `neighbour`: beside a single odd piece; `halve`: half way between good and bad; `after_change`: the first piece cut after the last change; `latest`: the last piece cut
                 * @enum {string}
                 */
                rule: "confirm" | "neighbour" | "halve" | "after_change" | "latest";
                /** @description Readings until this side is settled, at most, if drift or one jump lies behind it */
                at_most: number;
                /** @description What to measure and what it settles, in words */
                why: string;
            }[];
            /** @description Pieces between bad ones, where no piece speaks for another: measure each, or decide */
            each: {
                /** @description First piece, in cutting order */
                from_piece: number;
                /** @description Last piece, itself included */
                to_piece: number;
            }[];
        };
        /**
         * @description Pieces in doubt, why, and what releases them
         * @example {
         *       "batch_id": "3",
         *       "pieces_on_hold": 10,
         *       "on_hold": [
         *         {
         *           "from_piece": 41,
         *           "to_piece": 50
         *         }
         *       ],
         *       "reworks": [],
         *       "items": [
         *         {
         *           "feature_id": "12",
         *           "characteristic": "12",
         *           "name": "Tongue width",
         *           "place": null,
         *           "seat": null,
         *           "state": "open",
         *           "from_piece": 41,
         *           "to_piece": 50,
         *           "why": "Piece 50 failed; piece 40 is the last good one before, and piece 51 the first good one after: pieces 41 to 50 are in doubt.",
         *           "good_before": 40,
         *           "good_after": 51,
         *           "pieces": 10,
         *           "open": [
         *             {
         *               "from_piece": 41,
         *               "to_piece": 50
         *             }
         *           ],
         *           "decided": [],
         *           "bad": [
         *             {
         *               "from_piece": 50,
         *               "to_piece": 50
         *             }
         *           ],
         *           "because": [
         *             {
         *               "piece": 50,
         *               "reading_ids": [
         *                 "3-61"
         *               ],
         *               "contradicted_by": [],
         *               "by_reference": true
         *             }
         *           ],
         *           "measure_next": [
         *             {
         *               "piece": 45,
         *               "gauge_id": "5",
         *               "gauge": "micrometer 0-25 no. 3",
         *               "rule": "halve",
         *               "at_most": 4,
         *               "why": "Measure piece 45 with micrometer 0-25 no. 3: half way between good and bad. 4 readings at most on this side, if drift or one jump lies behind it."
         *             }
         *           ],
         *           "each": []
         *         }
         *       ],
         *       "next_cursor": null
         *     }
         */
        Holds: {
            /** @description The batch */
            batch_id: string;
            /** @description How many pieces must not go out as things stand */
            pieces_on_hold: number;
            /** @description Which ones: of all features and reworks together */
            on_hold: {
                /** @description First piece, in cutting order */
                from_piece: number;
                /** @description Last piece, itself included */
                to_piece: number;
            }[];
            /** @description Pieces given to rework, until they are proved good */
            reworks: {
                /** @description The decision for rework */
                decision_id: string;
                /** @description Its pieces that have not been proved good since */
                pieces: {
                    /** @description First piece, in cutting order */
                    from_piece: number;
                    /** @description Last piece, itself included */
                    to_piece: number;
                }[];
                /** @description What has to be measured again: a piece put back in the fixture has lost its old zero */
                waiting_for: {
                    /** @description Feature to be measured again */
                    feature_id: string;
                    /** @description Its balloon number */
                    characteristic: string;
                    /** @description On which pieces */
                    pieces: {
                        /** @description First piece, in cutting order */
                        from_piece: number;
                        /** @description Last piece, itself included */
                        to_piece: number;
                    }[];
                }[];
            }[];
            /** @description This page of holds, in cutting order */
            items: components["schemas"]["Hold"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description What became of a file
         * @example {
         *       "import_id": "12",
         *       "status": "complete",
         *       "reason": null,
         *       "source": "mill-2/probe.log",
         *       "layout_id": "4",
         *       "batch_id": "3",
         *       "next_offset": 4711,
         *       "lines": 121,
         *       "accepted": 118,
         *       "duplicates": 2,
         *       "repeated": 0,
         *       "not_measured": 0,
         *       "refused_count": 1,
         *       "skipped": 0,
         *       "verdicts": {
         *         "conforming": 117,
         *         "nonconforming": 1,
         *         "uncertain": 0
         *       },
         *       "results_differ": 0,
         *       "limits_differ": 0,
         *       "started_at": "2026-03-02T07:41:00.000Z",
         *       "moved_at": "2026-03-02T07:41:01.000Z",
         *       "ended_at": "2026-03-02T07:41:01.000Z",
         *       "joined": 0,
         *       "refused": [
         *         {
         *           "line": 7,
         *           "last_line": 7,
         *           "state": "refused",
         *           "text": "BORE-D   12,003",
         *           "reason": "12,003 may mean 12.003 with a decimal comma, or 12003 with a comma between thousands",
         *           "faults": [
         *             {
         *               "column": null,
         *               "field": "value",
         *               "reason": "12,003 may mean 12.003 with a decimal comma, or 12003 with a comma between thousands"
         *             }
         *           ]
         *         }
         *       ],
         *       "next": {
         *         "action": "set_offset",
         *         "piece": 13,
         *         "why": "Change D7 wear of tool 7 by -0.020 mm: it should then read -0.020 mm."
         *       },
         *       "corrections": [
         *         {
         *           "correction_id": "3-1",
         *           "status": "proposed",
         *           "kind": "change",
         *           "tool_id": "2",
         *           "register_id": "4",
         *           "register_number": 7,
         *           "register_label": "D7 wear",
         *           "unit": "mm",
         *           "value_now": 0,
         *           "change": -0.02,
         *           "value_after": -0.02,
         *           "batch_id": "3",
         *           "piece": 12,
         *           "gauge_id": null,
         *           "reading_ids": [
         *             "3-1"
         *           ],
         *           "features": [
         *             {
         *               "feature_id": "12",
         *               "place": null,
         *               "effect": 2,
         *               "unit": "mm",
         *               "expected_before": 6.0397,
         *               "expected_after": 5.9997,
         *               "window": {
         *                 "low": -0.045,
         *                 "high": 0.005
         *               }
         *             }
         *           ],
         *           "causes": null,
         *           "why": "12 Tongue width runs at 6.0397 mm, 79 % of the way from its target to the limit.",
         *           "arithmetic": [
         *             "0.000 mm + (-0.020 mm) = -0.020 mm: D7 wear should then read this."
         *           ],
         *           "cautions": [
         *             "Check sign, register and decimal point at the control before cycle start."
         *           ],
         *           "line": "OFFSET 7 ADD -0.020",
         *           "from_piece": null,
         *           "from_cut": null,
         *           "value_found": null,
         *           "value_set": null,
         *           "was_withdrawn": false,
         *           "found": null,
         *           "reason": null,
         *           "by": null
         *         }
         *       ],
         *       "next_checks": [
         *         {
         *           "batch_id": "3",
         *           "piece": 13,
         *           "seat": null,
         *           "state": "every_piece",
         *           "features": [
         *             {
         *               "feature_id": "12",
         *               "characteristic": "12",
         *               "places": null,
         *               "gauge_id": "5",
         *               "sure_piece": true,
         *               "rule": "after_change",
         *               "why": "first piece after a change of its register: was it keyed, with the right sign, into the right register?"
         *             }
         *           ],
         *           "left_out": [],
         *           "next_pieces": [
         *             14,
         *             15,
         *             16
         *           ],
         *           "wait_for_result": true
         *         }
         *       ]
         *     }
         */
        ImportAnswer: {
            /** @description Identity of the import; null: a dry run, which is not kept */
            import_id: string | null;
            /**
             * @description `open`: more is to come, or it was cut off and goes on at next_offset; `failed`: it can't be read to its end
             * @enum {string}
             */
            status: "open" | "complete" | "failed";
            /** @description Why it failed; null: it did not */
            reason: string | null;
            /** @description What people know the file by */
            source: string | null;
            /** @description How it is read */
            layout_id: string;
            /** @description Batch of all its readings; null: each says its own */
            batch_id: string | null;
            /** @description Up to here its bytes are dealt with: where to go on */
            next_offset: number;
            /** @description Lines dealt with */
            lines: number;
            /** @description Readings taken in */
            accepted: number;
            /** @description Readings that were there before */
            duplicates: number;
            /** @description Readings that say the very same as one before in this file, and nothing that tells them apart; listed with the lines */
            repeated: number;
            /** @description Values that the file says are missing */
            not_measured: number;
            /** @description Lines that can't be read or taken, listed with the reason */
            refused_count: number;
            /** @description Lines that tell nothing of a reading */
            skipped: number;
            /** @description Verdicts on what was taken in, by the limits on the drawing */
            verdicts: {
                /** @description Inside by the decision rule */
                conforming: number;
                /** @description Outside */
                nonconforming: number;
                /** @description Neither */
                uncertain: number;
            };
            /** @description Readings on which the file's own verdict, or its own limits, say other than the verdict here */
            results_differ: number;
            /** @description Readings for which the file has other limits than the drawing */
            limits_differ: number;
            /** @description When it began; null: a dry run */
            started_at: string | null;
            /** @description When it last came further */
            moved_at: string | null;
            /** @description When it came to its end; null: not yet */
            ended_at: string | null;
            /** @description Readings of documents sent before that waited for what this one defines, and were taken in now */
            joined: number;
            /** @description The first 100 lines that were refused by this request */
            refused: components["schemas"]["ImportLine"][];
            /** @description The one thing to do next; null: nothing was taken in */
            next: components["schemas"]["NextStep"] | null;
            /** @description Advice as it stands after it */
            corrections: components["schemas"]["Correction"][];
            /** @description What to measure next */
            next_checks: components["schemas"]["CheckPlan"][];
        };
        /**
         * @description A line that gave no reading
         * @example {
         *       "line": 7,
         *       "last_line": 7,
         *       "state": "refused",
         *       "text": "BORE-D   12,003",
         *       "reason": "12,003 may mean 12.003 with a decimal comma, or 12003 with a comma between thousands",
         *       "faults": [
         *         {
         *           "column": null,
         *           "field": "value",
         *           "reason": "12,003 may mean 12.003 with a decimal comma, or 12003 with a comma between thousands"
         *         }
         *       ]
         *     }
         */
        ImportLine: {
            /** @description Line, from 1 */
            line: number;
            /** @description The last one where there are several */
            last_line: number;
            /**
             * @description `repeated`: it says the very same as a line before, without a time or a number of its own, and was counted once; `mended`: refused at first, and read since
             * @enum {string}
             */
            state: "refused" | "repeated" | "not_measured" | "mended";
            /** @description What stands there */
            text: string;
            /** @description Why it gave no reading */
            reason: string;
            /** @description The same value by value */
            faults: {
                /** @description Column of a wide table; null: the line has one value */
                column: string | null;
                /** @description Which field it is about; null: all of the line */
                field: string | null;
                /** @description Why, and what to do */
                reason: string;
            }[];
        };
        /** @description One page of a list */
        ImportLineList: {
            /** @description This page, in the order of the file */
            items: components["schemas"]["ImportLine"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A reading with what its file says of it
         * @example {
         *       "line": 6,
         *       "column": null,
         *       "reading_id": "3-17",
         *       "characteristic": "12",
         *       "piece": 4,
         *       "value": "7.938",
         *       "unit": "mm",
         *       "lower_limit": 7.95,
         *       "upper_limit": 8.05,
         *       "limit_unit": "mm",
         *       "verdict": "nonconforming",
         *       "said": {
         *         "value": "7.938",
         *         "nominal": "8.000",
         *         "lower_limit": "7.950",
         *         "upper_limit": "8.050",
         *         "unit": "mm",
         *         "within": false,
         *         "result": "fail",
         *         "result_text": "*OUT*",
         *         "measured_at": "2026/03/11 06:42:17",
         *         "tool": null,
         *         "channel": null,
         *         "record": "5",
         *         "note": null,
         *         "notes": []
         *       }
         *     }
         */
        ImportedReading: {
            /** @description Line of the file, from 1 */
            line: number;
            /** @description Column of a wide table; null: the line has one value */
            column: string | null;
            /** @description The reading */
            reading_id: string;
            /** @description Balloon number of its feature */
            characteristic: string;
            /** @description Piece */
            piece: number;
            /** @description Value taken in; null: it said something else */
            value: string | null;
            /** @description Its unit */
            unit: ("mm" | "µm" | "nm" | "inch" | "µin" | "deg" | "arcmin" | "arcsec" | "rad") | null;
            /** @description Lower limit that it was judged by, in `limit_unit`; null: none */
            lower_limit: number | null;
            /** @description Upper limit */
            upper_limit: number | null;
            /** @description Unit of the limits */
            limit_unit: ("mm" | "inch" | "deg" | "µm" | "µin") | null;
            /**
             * @description By these limits and the decision rule
             * @enum {string}
             */
            verdict: "conforming" | "nonconforming" | "uncertain";
            /** @description What the file says of it, beside ours */
            said: components["schemas"]["SaidByFile"];
        };
        /** @description One page of a list */
        ImportedReadingList: {
            /** @description This page, in the order of the file */
            items: components["schemas"]["ImportedReading"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description Something that made people measure again
         * @example {
         *       "interruption_id": "4",
         *       "batch_id": "3",
         *       "from_piece": 89,
         *       "kind": "person_change",
         *       "note": "shift B took over",
         *       "by": "shift B",
         *       "created_at": "2026-03-02T14:02:00.000Z",
         *       "voided": null
         *     }
         */
        Interruption: {
            /** @description Identity of the interruption */
            interruption_id: string;
            /** @description The batch */
            batch_id: string;
            /** @description The first piece cut after it */
            from_piece: number;
            /**
             * @description What happened. After `fixture_change` and `program_change` every size is expected anew
             * @enum {string}
             */
            kind: "stop" | "person_change" | "material_change" | "fixture_change" | "program_change" | "other";
            /** @description What exactly */
            note: string | null;
            /** @description Who said so */
            by: string | null;
            /**
             * Format: date-time
             * @description When it was entered
             */
            created_at: string;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
        };
        /**
         * @description An interruption, and what to do next
         * @example {
         *       "interruption_id": "4",
         *       "batch_id": "3",
         *       "from_piece": 89,
         *       "kind": "person_change",
         *       "note": "shift B took over",
         *       "by": "shift B",
         *       "created_at": "2026-03-02T14:02:00.000Z",
         *       "voided": null,
         *       "next": {
         *         "action": "measure",
         *         "piece": 89,
         *         "why": "Measure 12 Tongue width on piece 89: first piece after an interruption."
         *       }
         *     }
         */
        InterruptionAnswer: {
            /** @description Identity of the interruption */
            interruption_id: string;
            /** @description The batch */
            batch_id: string;
            /** @description The first piece cut after it */
            from_piece: number;
            /**
             * @description What happened. After `fixture_change` and `program_change` every size is expected anew
             * @enum {string}
             */
            kind: "stop" | "person_change" | "material_change" | "fixture_change" | "program_change" | "other";
            /** @description What exactly */
            note: string | null;
            /** @description Who said so */
            by: string | null;
            /**
             * Format: date-time
             * @description When it was entered
             */
            created_at: string;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
            next: components["schemas"]["NextStep"];
        };
        /**
         * @description Something that makes people measure again before they trust the run
         * @example {
         *       "from_piece": 89,
         *       "kind": "person_change",
         *       "note": "shift B took over",
         *       "by": "shift B"
         *     }
         */
        InterruptionCreate: {
            /** @description The first piece cut after it; absent: the next one */
            from_piece?: number;
            /**
             * @description What happened. After `fixture_change` and `program_change` every size is expected anew
             * @enum {string}
             */
            kind: "stop" | "person_change" | "material_change" | "fixture_change" | "program_change" | "other";
            /** @description What exactly */
            note?: string | null;
            /** @description Who says so */
            by?: string | null;
        };
        /** @description One page of a list */
        InterruptionList: {
            /** @description This page, oldest first */
            items: components["schemas"]["Interruption"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description How often a feature is measured, and why
         * @example {
         *       "feature_id": "12",
         *       "every": 8,
         *       "next_piece": 21,
         *       "rule": "earned",
         *       "risk": null,
         *       "why": "5 good checks in a row: every 8 pieces",
         *       "pieces_to_limit": 31,
         *       "not_before": 22
         *     }
         */
        Interval: {
            /** @description The feature */
            feature_id: string;
            /** @description Pieces from one check to the next, as things stand */
            every: number;
            /** @description Next piece on which it is due */
            next_piece: number;
            /** @description Rule that sets it */
            rule: string;
            /** @description Risk per piece that the interval keeps to; null: no limit on risk is in force */
            risk: number | null;
            /** @description The same in words */
            why: string;
            /** @description Pieces until its expected size leaves its limits without another correction; null: not in this edge's life as far as known */
            pieces_to_limit: number | null;
            /** @description Pieces until it may have left them: the first with a chance above 10 %; null: not in this edge's life as far as known */
            not_before: number | null;
        };
        /**
         * @description A key, without its secret
         * @example {
         *       "key_id": "3",
         *       "name": "computer at mill-2",
         *       "role": "uploader",
         *       "prefix": "onsize_5b1f0c93aa",
         *       "created_at": "2026-03-02T07:41:00.000Z",
         *       "created_by": "ONSIZE_ADMIN_KEY",
         *       "last_used_at": null,
         *       "revoked_at": null,
         *       "revoked_by": null
         *     }
         */
        Key: {
            /** @description Its identity */
            key_id: string;
            /** @description Who or what has it */
            name: string;
            /**
             * @description `uploader` sends readings and files; `operator` also reads everything and corrects, opens and closes batches; `engineer` also edits machines, tools, gauges, parts; `admin` also keys
             * @enum {string}
             */
            role: "uploader" | "operator" | "engineer" | "admin";
            /** @description How it begins, by which it is told from others */
            prefix: string;
            /**
             * Format: date-time
             * @description When it was made
             */
            created_at: string;
            /** @description Name of the key that made it; null: the command line */
            created_by: string | null;
            /** @description When it was last used, to the minute; null: never */
            last_used_at: string | null;
            /** @description When it was revoked; null: it counts */
            revoked_at: string | null;
            /** @description Name of the key that revoked it; null: the command line */
            revoked_by: string | null;
        };
        /**
         * @description A key to be made
         * @example {
         *       "name": "computer at mill-2",
         *       "role": "uploader"
         *     }
         */
        KeyCreate: {
            /** @description Who or what has it, such as a person or a machine's computer; stands in what it does */
            name: string;
            /**
             * @description `uploader` sends readings and files; `operator` also reads everything and corrects, opens and closes batches; `engineer` also edits machines, tools, gauges, parts; `admin` also keys
             * @enum {string}
             */
            role: "uploader" | "operator" | "engineer" | "admin";
        };
        /** @description One page of a list */
        KeyList: {
            /** @description This page, oldest first */
            items: components["schemas"]["Key"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A cause that fits what was measured
         * @example {
         *       "cause": "warmth",
         *       "tool_id": null,
         *       "register_id": null,
         *       "gauge_id": null,
         *       "feature_id": null,
         *       "place": null,
         *       "seat": null,
         *       "weight": 0.98,
         *       "explains": true,
         *       "why": "Sizes are off in proportion to their length, 100.0 µm in each metre: warmth, or a scale. It reaches 3 of 3 features measured and leaves χ² 0.4 of 61.2 with 2 degrees of freedom (99 % point 9.2): no more than scatter.",
         *       "next_step": "Let part and gauge reach the same temperature and measure again, or send temperature_c with the reading; no offset."
         *     }
         */
        LikelyCause: {
            /**
             * @description `tool_size`: the tool is not what is entered, or its register; `tool_wear`: it wanders from piece to piece; `deflection`: cutter or part bends; `register_mistaken`: a change came out otherwise than keyed; `work_zero`: work zero or fixture; `part_turned`: opposite at opposite ends; `warmth`: in proportion to length, or fading from a cold start; `gauge`: inside and outside off alike; `single_feature`: no other one is off
             * @enum {string}
             */
            cause: "tool_size" | "tool_wear" | "deflection" | "register_mistaken" | "work_zero" | "part_turned" | "warmth" | "gauge" | "single_feature";
            /** @description The tool that it is about */
            tool_id: string | null;
            /** @description The register */
            register_id: string | null;
            /** @description The gauge */
            gauge_id: string | null;
            /** @description The feature */
            feature_id: string | null;
            /** @description The place on it */
            place: string | null;
            /** @description The seat, where only what sat there is off */
            seat: string | null;
            /** @description Share of belief among all causes looked at and none, each held equally likely before */
            weight: number;
            /** @description True: what it leaves over is no more than scatter */
            explains: boolean;
            /** @description The evidence in numbers */
            why: string;
            /** @description The next thing to try */
            next_step: string;
        };
        /**
         * @description A layout as it is kept
         * @example {
         *       "layout_id": "4",
         *       "version": 1,
         *       "created_at": "2026-03-02T07:41:00.000Z",
         *       "changed_at": "2026-03-02T07:41:00.000Z",
         *       "layout": {
         *         "name": "probe print of mill-2",
         *         "format": "text",
         *         "encoding": "detect",
         *         "control_characters": "refuse",
         *         "skip_lines": 0,
         *         "decimal_sign": ".",
         *         "unit": "mm",
         *         "time_zone": "Europe/Berlin",
         *         "time_formats": [],
         *         "rules": [
         *           {
         *             "kind": "context",
         *             "pattern": "^PART (?P<serial>\\S+)"
         *           },
         *           {
         *             "kind": "record",
         *             "pattern": "^(?P<characteristic>\\S+) +(?P<value>[-+.\\d]+)$"
         *           },
         *           {
         *             "kind": "skip",
         *             "pattern": "^%$"
         *           }
         *         ],
         *         "other_lines": "refuse",
         *         "members": {},
         *         "constants": {},
         *         "translate": {
         *           "characteristic": {
         *             "BORE-D": "12"
         *           }
         *         },
         *         "marks": {},
         *         "no_value": [],
         *         "piece_from": "serial"
         *       }
         *     }
         */
        LogLayout: {
            /** @description Identity of the layout */
            layout_id: string;
            /** @description 1, and one more with each change */
            version: number;
            /**
             * Format: date-time
             * @description When it was first described
             */
            created_at: string;
            /**
             * Format: date-time
             * @description When it was changed last
             */
            changed_at: string;
            /** @description The description, defaults filled in */
            layout: {
                /** @description What people call it */
                name: string;
                /**
                 * @description `text`: lines read by `rules`. `table`: rows and columns. `json_lines`: one JSON object per line. `gauge_lines`: what a gauge's cable sends, a line per value: channel, sign, digits, unit, status. `dmis`: output of a measuring machine in DMIS (ISO 22093). `mtconnect`: features that a machine has measured and publishes in an MTConnect stream. `qif`: results in the Quality Information Framework (ISO 23952), version 2 or 3; read as a whole
                 * @enum {string}
                 */
                format: "text" | "table" | "json_lines" | "gauge_lines" | "dmis" | "mtconnect" | "qif";
                /**
                 * @description `detect`: by a byte order mark, else UTF-8, or Windows-1252 where the first accented letter is no UTF-8
                 * @default detect
                 * @enum {string}
                 */
                encoding: "detect" | "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";
                /**
                 * @description What becomes of NUL and other control characters: the line is refused, or they are left out and it is noted
                 * @default refuse
                 * @enum {string}
                 */
                control_characters: "refuse" | "drop";
                /**
                 * @description How many lines at the beginning tell nothing
                 * @default 0
                 */
                skip_lines: number;
                /**
                 * @description `both`: point and comma are decimal signs alike
                 * @default .
                 * @enum {string}
                 */
                decimal_sign: "." | "," | "both";
                /** @description What stands between thousands; null: nothing */
                grouping_sign?: ("." | "," | " " | "'") | null;
                /** @description Unit of values that bear none; null: such values are refused */
                unit?: ("mm" | "µm" | "inch" | "cm" | "m" | "nm" | "µin" | "mil" | "deg" | "arcmin" | "arcsec" | "rad") | null;
                /** @description What a number printed without a decimal sign is multiplied by; null: one with zeros in front is refused, and from a gauge's cable any */
                scale?: string | null;
                /** @description Zone of times without an offset; null: such times are refused */
                time_zone?: string | null;
                /**
                 * @description How date and time are written, such as "DD.MM.YYYY HH:mm:ss"; none: ISO 8601
                 * @default []
                 */
                time_formats: string[];
                /**
                 * @description Format `text`: what each line is; the first rule that fits counts
                 * @default []
                 */
                rules: {
                    /**
                     * @description `record`: the line is a reading. `begin`, `part`, `end`: it begins, continues or ends one of several lines; without an `end` the next `begin` does. `context`: what it says holds for the readings after it. `not_measured`: it, or the reading it stands in, gave no number. `skip`: it tells nothing
                     * @enum {string}
                     */
                    kind: "record" | "begin" | "part" | "end" | "context" | "not_measured" | "skip";
                    /** @description A regular expression (RE2 syntax) that is looked for in the line; named groups (?P<value>…) are the fields */
                    pattern?: string;
                    /** @description Fixed columns of the line, spaces around the text left off */
                    columns?: {
                        /** @description What stands there */
                        field: string;
                        /** @description First column, from 1 */
                        from: number;
                        /** @description Last column */
                        to: number;
                    }[];
                    /** @description What stands between the fields; "spaces": one space or more, "tab": a tabulator */
                    delimiter?: string;
                    /** @description The fields between the delimiters in their order; null: not wanted */
                    fields?: (string | null)[];
                }[];
                /**
                 * @description Lines that no rule fits: kept and reported, or passed over
                 * @default refuse
                 * @enum {string}
                 */
                other_lines: "refuse" | "skip";
                /** @description Format `table`: rows and columns */
                table?: {
                    /**
                     * @description What stands between the cells; `spaces`: one space or more
                     * @enum {string}
                     */
                    separator: "," | ";" | "tab" | "|" | "spaces";
                    /** @description What stands around a cell that holds a separator; absent: " */
                    quote?: ("\"" | "'") | null;
                    /**
                     * @description True: a row names the columns, and rows before it are skipped; false: columns are named by number
                     * @default true
                     */
                    header: boolean;
                    /**
                     * @description What a row holds; with pieces in rows or columns the other direction is the characteristics
                     * @default reading_per_row
                     * @enum {string}
                     */
                    shape: "reading_per_row" | "piece_per_row" | "piece_per_column";
                    /** @description Which column is which field, by its header or its number from 1; several for one value in several units, which must agree */
                    columns: {
                        [key: string]: (string | number) | (string | number)[];
                    };
                    /**
                     * @description Columns of a wide table that are no characteristic and no piece
                     * @default []
                     */
                    leave_out: string[];
                    /**
                     * @description Rows of a table with a piece per row that hold what the sizes should be, by what stands in the piece's column
                     * @default {}
                     */
                    limit_rows: {
                        [key: string]: "nominal" | "lower_limit" | "upper_limit" | "lower_deviation" | "upper_deviation" | "lower_tolerance";
                    };
                    /**
                     * @description Rows that match one of these tell nothing
                     * @default []
                     */
                    skip_rows: string[];
                } | null;
                /** @description Format `dmis`: what such files leave open */
                dmis?: {
                    /**
                     * @description Which characteristic a reported tolerance is, for `translate`: "CIRC1 DIAM2", in capitals but for the tolerance's label, or the tolerance's label alone, which then may stand on one feature only
                     * @default feature_and_tolerance
                     * @enum {string}
                     */
                    names: "feature_and_tolerance" | "tolerance";
                    /**
                     * @description What a reported tolerance of size says: its size, or its deviation from the nominal size. `detect`: by the actual feature beside it and by INTOL and OUTOL; what could be both is refused. What the actual feature shows beats this
                     * @default detect
                     * @enum {string}
                     */
                    actuals: "detect" | "size" | "deviation";
                    /**
                     * @description What its lot is to us: a remark, or the batch's name
                     * @default note
                     * @enum {string}
                     */
                    lot: "note" | "batch";
                } | null;
                /** @description Format `qif`: what such documents leave open */
                qif?: {
                    /**
                     * @description Which characteristic a value is of: the designator on the drawing (balloon number), or its name; the other one where there is none. For `translate`: an item that was measured on several features is also "NAME @ FEATURE", so that each may be a characteristic of its own; else the feature is the place
                     * @default designator
                     * @enum {string}
                     */
                    names: "designator" | "name";
                    /** @description Unit of angles that bear none and of which the document says none; null: such values are refused */
                    angle_unit?: ("deg" | "arcmin" | "arcsec" | "rad") | null;
                } | null;
                /**
                 * @description Format `json_lines`: which member is which field, "result.size" for one inside another; absent: of the same name
                 * @default {}
                 */
                members: {
                    [key: string]: string;
                };
                /**
                 * @description Fields that the file does not say, the same for all of it
                 * @default {}
                 */
                constants: {
                    [key: string]: string;
                };
                /**
                 * @description Names of the file to ours, by field: { "characteristic": { "BORE D": "12" } }; `result` to `pass` or `fail`
                 * @default {}
                 */
                translate: {
                    [key: string]: {
                        [key: string]: string;
                    };
                };
                /**
                 * @description Marks beside a value and what they say: { "*": "fail" }; "()" for parentheses around it
                 * @default {}
                 */
                marks: {
                    [key: string]: "pass" | "fail" | "ignore";
                };
                /**
                 * @description What else a file writes where there is no value, such as 9999.999
                 * @default []
                 */
                no_value: string[];
                /**
                 * @description Where the piece's number comes from. `serial`: a serial number new to the batch is its next piece, so that pieces stand in the file as they were cut. `count`: the next reading of a characteristic is of the next piece
                 * @default field
                 * @enum {string}
                 */
                piece_from: "field" | "serial" | "count";
            };
        };
        /**
         * @description How a text log, a table or a gauge's lines are read
         * @example {
         *       "name": "probe print of mill-2",
         *       "format": "text",
         *       "unit": "mm",
         *       "time_zone": "Europe/Berlin",
         *       "rules": [
         *         {
         *           "kind": "context",
         *           "pattern": "^PART (?P<serial>\\S+)"
         *         },
         *         {
         *           "kind": "record",
         *           "pattern": "^(?P<characteristic>\\S+) +(?P<value>[-+.\\d]+)$"
         *         },
         *         {
         *           "kind": "skip",
         *           "pattern": "^%$"
         *         }
         *       ],
         *       "translate": {
         *         "characteristic": {
         *           "BORE-D": "12"
         *         }
         *       },
         *       "piece_from": "serial"
         *     }
         */
        LogLayoutCreate: {
            /** @description What people call it */
            name: string;
            /**
             * @description `text`: lines read by `rules`. `table`: rows and columns. `json_lines`: one JSON object per line. `gauge_lines`: what a gauge's cable sends, a line per value: channel, sign, digits, unit, status. `dmis`: output of a measuring machine in DMIS (ISO 22093). `mtconnect`: features that a machine has measured and publishes in an MTConnect stream. `qif`: results in the Quality Information Framework (ISO 23952), version 2 or 3; read as a whole
             * @enum {string}
             */
            format: "text" | "table" | "json_lines" | "gauge_lines" | "dmis" | "mtconnect" | "qif";
            /**
             * @description `detect`: by a byte order mark, else UTF-8, or Windows-1252 where the first accented letter is no UTF-8
             * @default detect
             * @enum {string}
             */
            encoding?: "detect" | "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";
            /**
             * @description What becomes of NUL and other control characters: the line is refused, or they are left out and it is noted
             * @default refuse
             * @enum {string}
             */
            control_characters?: "refuse" | "drop";
            /**
             * @description How many lines at the beginning tell nothing
             * @default 0
             */
            skip_lines?: number;
            /**
             * @description `both`: point and comma are decimal signs alike
             * @default .
             * @enum {string}
             */
            decimal_sign?: "." | "," | "both";
            /** @description What stands between thousands; null: nothing */
            grouping_sign?: ("." | "," | " " | "'") | null;
            /** @description Unit of values that bear none; null: such values are refused */
            unit?: ("mm" | "µm" | "inch" | "cm" | "m" | "nm" | "µin" | "mil" | "deg" | "arcmin" | "arcsec" | "rad") | null;
            /** @description What a number printed without a decimal sign is multiplied by; null: one with zeros in front is refused, and from a gauge's cable any */
            scale?: string | null;
            /** @description Zone of times without an offset; null: such times are refused */
            time_zone?: string | null;
            /**
             * @description How date and time are written, such as "DD.MM.YYYY HH:mm:ss"; none: ISO 8601
             * @default []
             */
            time_formats?: string[];
            /**
             * @description Format `text`: what each line is; the first rule that fits counts
             * @default []
             */
            rules?: {
                /**
                 * @description `record`: the line is a reading. `begin`, `part`, `end`: it begins, continues or ends one of several lines; without an `end` the next `begin` does. `context`: what it says holds for the readings after it. `not_measured`: it, or the reading it stands in, gave no number. `skip`: it tells nothing
                 * @enum {string}
                 */
                kind: "record" | "begin" | "part" | "end" | "context" | "not_measured" | "skip";
                /** @description A regular expression (RE2 syntax) that is looked for in the line; named groups (?P<value>…) are the fields */
                pattern?: string;
                /** @description Fixed columns of the line, spaces around the text left off */
                columns?: {
                    /** @description What stands there */
                    field: string;
                    /** @description First column, from 1 */
                    from: number;
                    /** @description Last column */
                    to: number;
                }[];
                /** @description What stands between the fields; "spaces": one space or more, "tab": a tabulator */
                delimiter?: string;
                /** @description The fields between the delimiters in their order; null: not wanted */
                fields?: (string | null)[];
            }[];
            /**
             * @description Lines that no rule fits: kept and reported, or passed over
             * @default refuse
             * @enum {string}
             */
            other_lines?: "refuse" | "skip";
            /** @description Format `table`: rows and columns */
            table?: {
                /**
                 * @description What stands between the cells; `spaces`: one space or more
                 * @enum {string}
                 */
                separator: "," | ";" | "tab" | "|" | "spaces";
                /** @description What stands around a cell that holds a separator; absent: " */
                quote?: ("\"" | "'") | null;
                /**
                 * @description True: a row names the columns, and rows before it are skipped; false: columns are named by number
                 * @default true
                 */
                header?: boolean;
                /**
                 * @description What a row holds; with pieces in rows or columns the other direction is the characteristics
                 * @default reading_per_row
                 * @enum {string}
                 */
                shape?: "reading_per_row" | "piece_per_row" | "piece_per_column";
                /** @description Which column is which field, by its header or its number from 1; several for one value in several units, which must agree */
                columns: {
                    [key: string]: (string | number) | (string | number)[];
                };
                /**
                 * @description Columns of a wide table that are no characteristic and no piece
                 * @default []
                 */
                leave_out?: string[];
                /**
                 * @description Rows of a table with a piece per row that hold what the sizes should be, by what stands in the piece's column
                 * @default {}
                 */
                limit_rows?: {
                    [key: string]: "nominal" | "lower_limit" | "upper_limit" | "lower_deviation" | "upper_deviation" | "lower_tolerance";
                };
                /**
                 * @description Rows that match one of these tell nothing
                 * @default []
                 */
                skip_rows?: string[];
            } | null;
            /** @description Format `dmis`: what such files leave open */
            dmis?: {
                /**
                 * @description Which characteristic a reported tolerance is, for `translate`: "CIRC1 DIAM2", in capitals but for the tolerance's label, or the tolerance's label alone, which then may stand on one feature only
                 * @default feature_and_tolerance
                 * @enum {string}
                 */
                names?: "feature_and_tolerance" | "tolerance";
                /**
                 * @description What a reported tolerance of size says: its size, or its deviation from the nominal size. `detect`: by the actual feature beside it and by INTOL and OUTOL; what could be both is refused. What the actual feature shows beats this
                 * @default detect
                 * @enum {string}
                 */
                actuals?: "detect" | "size" | "deviation";
                /**
                 * @description What its lot is to us: a remark, or the batch's name
                 * @default note
                 * @enum {string}
                 */
                lot?: "note" | "batch";
            } | null;
            /** @description Format `qif`: what such documents leave open */
            qif?: {
                /**
                 * @description Which characteristic a value is of: the designator on the drawing (balloon number), or its name; the other one where there is none. For `translate`: an item that was measured on several features is also "NAME @ FEATURE", so that each may be a characteristic of its own; else the feature is the place
                 * @default designator
                 * @enum {string}
                 */
                names?: "designator" | "name";
                /** @description Unit of angles that bear none and of which the document says none; null: such values are refused */
                angle_unit?: ("deg" | "arcmin" | "arcsec" | "rad") | null;
            } | null;
            /**
             * @description Format `json_lines`: which member is which field, "result.size" for one inside another; absent: of the same name
             * @default {}
             */
            members?: {
                [key: string]: string;
            };
            /**
             * @description Fields that the file does not say, the same for all of it
             * @default {}
             */
            constants?: {
                [key: string]: string;
            };
            /**
             * @description Names of the file to ours, by field: { "characteristic": { "BORE D": "12" } }; `result` to `pass` or `fail`
             * @default {}
             */
            translate?: {
                [key: string]: {
                    [key: string]: string;
                };
            };
            /**
             * @description Marks beside a value and what they say: { "*": "fail" }; "()" for parentheses around it
             * @default {}
             */
            marks?: {
                [key: string]: "pass" | "fail" | "ignore";
            };
            /**
             * @description What else a file writes where there is no value, such as 9999.999
             * @default []
             */
            no_value?: string[];
            /**
             * @description Where the piece's number comes from. `serial`: a serial number new to the batch is its next piece, so that pieces stand in the file as they were cut. `count`: the next reading of a characteristic is of the next piece
             * @default field
             * @enum {string}
             */
            piece_from?: "field" | "serial" | "count";
        };
        /** @description One page of a list */
        LogLayoutList: {
            /** @description This page, oldest first */
            items: components["schemas"]["LogLayout"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description What a layout makes of a sample
         * @example {
         *       "readings": 1,
         *       "refused": 0,
         *       "not_measured": 0,
         *       "unreadable": null,
         *       "lines": [
         *         {
         *           "line": 3,
         *           "last_line": 3,
         *           "column": null,
         *           "text": "BORE-D   12.003",
         *           "becomes": "reading",
         *           "why": null,
         *           "reading": {
         *             "characteristic": "12",
         *             "part_number": null,
         *             "revision": null,
         *             "batch": null,
         *             "piece": null,
         *             "serial": "0418",
         *             "cut": null,
         *             "seat": null,
         *             "place": null,
         *             "value": "12.003",
         *             "unit": "mm",
         *             "dx": null,
         *             "dy": null,
         *             "dz": null,
         *             "size": null,
         *             "result": null,
         *             "count": null,
         *             "gauge": null,
         *             "measured_at": null,
         *             "taken_by": null,
         *             "temperature_c": null,
         *             "gauge_temperature_c": null,
         *             "cut_with": []
         *           },
         *           "said": {
         *             "value": "12.003",
         *             "nominal": null,
         *             "lower_limit": null,
         *             "upper_limit": null,
         *             "unit": null,
         *             "within": null,
         *             "result": null,
         *             "result_text": null,
         *             "measured_at": null,
         *             "tool": null,
         *             "channel": null,
         *             "record": null,
         *             "note": null,
         *             "notes": []
         *           }
         *         }
         *       ]
         *     }
         */
        LogLayoutTrial: {
            /** @description How many readings it would give */
            readings: number;
            /** @description How many lines or values can't be read */
            refused: number;
            /** @description How many say that there is no value */
            not_measured: number;
            /** @description Why nothing is read from some place on, or at all; null: all of it can be looked at */
            unreadable: string | null;
            /** @description Line by line, empty ones left out */
            lines: {
                /** @description Line, from 1 */
                line: number;
                /** @description The last one where there are several */
                last_line: number;
                /** @description Column of a wide table; null: the line has one value */
                column: string | null;
                /** @description What stands there */
                text: string;
                /**
                 * @description What it would become
                 * @enum {string}
                 */
                becomes: "reading" | "skipped" | "refused" | "not_measured";
                /** @description Why it becomes no reading */
                why: string | null;
                /** @description What is understood; null: no reading */
                reading: components["schemas"]["UnderstoodReading"] | null;
                /** @description What it says beside the value; null: no reading */
                said: components["schemas"]["SaidByFile"] | null;
            }[];
        };
        /**
         * @description A layout and a sample to try it on
         * @example {
         *       "layout": {
         *         "name": "probe print of mill-2",
         *         "format": "text",
         *         "unit": "mm",
         *         "time_zone": "Europe/Berlin",
         *         "rules": [
         *           {
         *             "kind": "context",
         *             "pattern": "^PART (?P<serial>\\S+)"
         *           },
         *           {
         *             "kind": "record",
         *             "pattern": "^(?P<characteristic>\\S+) +(?P<value>[-+.\\d]+)$"
         *           },
         *           {
         *             "kind": "skip",
         *             "pattern": "^%$"
         *           }
         *         ],
         *         "translate": {
         *           "characteristic": {
         *             "BORE-D": "12"
         *           }
         *         },
         *         "piece_from": "serial"
         *       },
         *       "sample": "%\nPART 0418\nBORE-D   12.003\n%\n"
         *     }
         */
        LogLayoutTrialCreate: {
            /** @description A layout that need not be kept yet */
            layout?: components["schemas"]["LogLayoutCreate"];
            /** @description Or one that is */
            layout_id?: string;
            /** @description Some lines of the file, as text */
            sample?: string;
            /** @description Or its bytes, where they are no plain text */
            sample_base64?: string;
        };
        /**
         * @description A machine tool
         * @example {
         *       "machine_id": "3",
         *       "name": "mill-2",
         *       "kind": "mill",
         *       "unit": "mm",
         *       "least_increment": 0.001,
         *       "largest_change": 0.2,
         *       "largest_change_towards_work": 0.1,
         *       "line_template": "OFFSET {register} ADD {change}",
         *       "created_at": "2026-03-02T06:12:00.000Z"
         *     }
         */
        Machine: {
            /** @description Identity of the machine */
            machine_id: string;
            /** @description What the shop calls it */
            name: string;
            /**
             * @description What it does: a lathe turns the part, a mill turns the tool
             * @enum {string}
             */
            kind: "mill" | "lathe";
            /**
             * @description Unit of every size of the machine and its tools
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description The smallest step that its control takes */
            least_increment: number;
            /** @description The most that one correction may change a register by */
            largest_change: number;
            /** @description The most that one correction may move a tool towards the work; null: `largest_change` */
            largest_change_towards_work: number | null;
            /** @description The text this control takes for a correction */
            line_template: string | null;
            /**
             * Format: date-time
             * @description When it was set up
             */
            created_at: string;
        };
        /**
         * @description A machine tool to be set up
         * @example {
         *       "name": "mill-2",
         *       "kind": "mill",
         *       "unit": "mm",
         *       "least_increment": 0.001,
         *       "largest_change": 0.2,
         *       "largest_change_towards_work": 0.1,
         *       "line_template": "OFFSET {register} ADD {change}"
         *     }
         */
        MachineCreate: {
            /** @description What the shop calls it; no other machine may have this name */
            name: string;
            /**
             * @description What it does: a lathe turns the part, a mill turns the tool
             * @enum {string}
             */
            kind: "mill" | "lathe";
            /**
             * @description Unit in which its control keeps offsets; every size of the machine and its tools is in it
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description The smallest step that its control takes */
            least_increment: number | string;
            /** @description The most that one correction may change a register by */
            largest_change: number | string;
            /** @description The most that one correction may move a tool towards the work; null or absent: `largest_change` */
            largest_change_towards_work?: (number | string) | null;
            /** @description The text this control takes for a correction, with {register}, {tool}, {change} and {value_after} in it */
            line_template?: string | null;
        };
        /** @description One page of a list */
        MachineList: {
            /** @description This page, oldest first */
            items: components["schemas"]["Machine"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A register of a machine's control: a tool's wear offset or a work offset
         * @example {
         *       "register_id": "40",
         *       "machine_id": "3",
         *       "tool_id": null,
         *       "number": 54,
         *       "label": "G54 X",
         *       "controls": "work_x",
         *       "holds": null,
         *       "sign": "normal",
         *       "seat": "B",
         *       "unit": "mm",
         *       "start_value": 0,
         *       "value_now": -0.017,
         *       "largest_total": null
         *     }
         */
        MachineRegister: {
            /** @description Identity of the register */
            register_id: string;
            /** @description The machine */
            machine_id: string;
            /** @description The tool whose offset it is; null: it is a work offset */
            tool_id: string | null;
            /** @description The control's own number of it */
            number: number;
            /** @description What the control or the shop calls it */
            label: string;
            /**
             * @description What it shifts: a tool's radius, length or axis, or the work along an axis
             * @enum {string}
             */
            controls: "radial" | "axial" | "x" | "z" | "work_x" | "work_y" | "work_z";
            /** @description What a `radial` or `x` register keeps */
            holds: ("radius" | "diameter") | null;
            /**
             * @description `reversed` where a plus entry does the opposite of what is usual
             * @enum {string}
             */
            sign: "normal" | "reversed";
            /** @description The seat of the fixture whose pieces it moves, by the name that batches give it; null: every piece */
            seat: string | null;
            /**
             * @description The machine's unit, in which its values are
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description What it held when it was set up here */
            start_value: number;
            /** @description What it holds now, by the entries made since */
            value_now: number;
            /** @description The most that all corrections may add up to */
            largest_total: number | null;
        };
        /** @description One page of a list */
        MachineRegisterList: {
            /** @description This page, oldest first */
            items: components["schemas"]["MachineRegister"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A material by name, with how far it grows with heat
         * @example {
         *       "name": "steel",
         *       "aliases": [
         *         "carbon or alloy steel",
         *         "mild steel"
         *       ],
         *       "expansion_coefficient": 11.5,
         *       "lowest": 11,
         *       "highest": 12.6,
         *       "expansion_uncertainty": 0.5508
         *     }
         */
        Material: {
            /** @description What to send as `material` of a part or a gauge */
            name: string;
            /** @description Other ways to write it; capitals, spaces, brackets and dashes make no difference */
            aliases: string[];
            /** @description Customary coefficient of linear expansion near 20 °C, µm per metre and kelvin */
            expansion_coefficient: number;
            /** @description Lowest that handbooks give, in the same unit */
            lowest: number;
            /** @description Highest that handbooks give, in the same unit */
            highest: number;
            /** @description Standard uncertainty that follows from the range, in the same unit */
            expansion_uncertainty: number;
        };
        /** @description One page of a list */
        MaterialList: {
            /** @description This page, oldest first */
            items: components["schemas"]["Material"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A key that was just made
         * @example {
         *       "key_id": "3",
         *       "name": "computer at mill-2",
         *       "role": "uploader",
         *       "prefix": "onsize_5b1f0c93aa",
         *       "created_at": "2026-03-02T07:41:00.000Z",
         *       "created_by": "ONSIZE_ADMIN_KEY",
         *       "last_used_at": null,
         *       "revoked_at": null,
         *       "revoked_by": null,
         *       "key": "onsize_5b1f0c93aa_<43 characters>"
         *     }
         */
        NewKey: {
            /** @description Its identity */
            key_id: string;
            /** @description Who or what has it */
            name: string;
            /**
             * @description `uploader` sends readings and files; `operator` also reads everything and corrects, opens and closes batches; `engineer` also edits machines, tools, gauges, parts; `admin` also keys
             * @enum {string}
             */
            role: "uploader" | "operator" | "engineer" | "admin";
            /** @description How it begins, by which it is told from others */
            prefix: string;
            /**
             * Format: date-time
             * @description When it was made
             */
            created_at: string;
            /** @description Name of the key that made it; null: the command line */
            created_by: string | null;
            /** @description When it was last used, to the minute; null: never */
            last_used_at: string | null;
            /** @description When it was revoked; null: it counts */
            revoked_at: string | null;
            /** @description Name of the key that revoked it; null: the command line */
            revoked_by: string | null;
            /** @description The key itself, this one time: nothing of it is kept that it could be read from. Null where the request was sent again */
            key: string | null;
        };
        /**
         * @description The one thing to do next
         * @example {
         *       "action": "set_offset",
         *       "piece": 13,
         *       "why": "Change D7 wear of tool 7 by -0.020 mm: it should then read -0.020 mm."
         *     }
         */
        NextStep: {
            /**
             * @description The one thing to do; all else is detail
             * @enum {string}
             */
            action: "run_on" | "measure" | "set_offset" | "stop";
            /** @description The piece it is about */
            piece: number;
            /** @description Where that piece is to be cut again: measure it as this cut, such as 2 */
            cut?: number;
            /** @description What to do and why, in plain words */
            why: string;
        };
        /**
         * @description How often a plan accepts which quality
         * @example {
         *       "points": [
         *         {
         *           "percent": 1,
         *           "accepted": 0.9106
         *         }
         *       ],
         *       "key_points": [
         *         {
         *           "accepted": 0.95,
         *           "percent": 0.7152
         *         }
         *       ]
         *     }
         */
        OperatingCharacteristic: {
            /** @description The curve, from good to bad; of a lot only what whole pieces make */
            points: {
                /** @description Percent nonconforming (nonconformities per 100 pieces under `poisson`) */
                percent: number;
                /** @description Probability of acceptance */
                accepted: number;
            }[];
            /** @description The qualities accepted with the usual probabilities */
            key_points: {
                /** @description Probability with which a lot of this quality is accepted */
                accepted: number;
                /** @description Percent nonconforming (nonconformities per 100 pieces under `poisson`) */
                percent: number;
            }[];
        };
        /** @description Limits of a feature in an operation before its last */
        OperationLimits: {
            /** @description The operation that has these limits; a batch of it goes by them */
            operation: string;
            /** @description Nominal size in this operation */
            nominal: string;
            /** @description Lower limit of size in this operation */
            lower_limit: number | null;
            /** @description Upper limit of size in this operation */
            upper_limit: number | null;
            /** @description The size to aim at in this operation */
            target: number;
            /**
             * @description Which way the limits came about
             * @enum {string}
             */
            limits_from: "deviations" | "limits" | "fit" | "general_tolerance" | "plating";
            /** @description Tolerance class of ISO 286 */
            fit: string | null;
            /** @description Class of ISO 2768-1 */
            general_tolerance: ("f" | "m" | "c" | "v") | null;
            /** @description A layer that comes on afterwards: the limits before it are worked out from the final ones */
            plating: {
                /** @description Thickness of the layer on each surface */
                thickness: number;
                /** @description It may be so much thinner or thicker */
                plus_minus: number;
                /** @description Plated surfaces that the size lies between: 2 for a diameter or a width, 1 where one side is plated */
                surfaces: number | null;
                /** @description Instead of surfaces, where the size is the pitch diameter of a thread: its included angle in degrees. At 60 it grows by 4 times the thickness */
                thread_angle: number | null;
                /** @description Share of the thickness by which a surface grows: 1 for a plated layer; about 0.5 where half of it grows into the metal, as with anodising */
                share: number;
                /** @description What it adds to the size; below 0 for an internal feature */
                growth: number;
            } | null;
            /** @description Why they are others than the drawing's, such as "before grinding" */
            reason: string | null;
        };
        /**
         * @description What a new batch will take, from what is known of earlier ones
         * @example {
         *       "part_id": "8",
         *       "machine_id": "3",
         *       "quantity": 500,
         *       "rests_on": {
         *         "batches": [
         *           "3"
         *         ],
         *         "pieces": 200,
         *         "readings": 61,
         *         "edges_ended": 0
         *       },
         *       "unknown": [
         *         "Nobody has said how long a reading with micrometer 0-25 no. 3 takes."
         *       ],
         *       "first_check": {
         *         "batch_id": "3",
         *         "piece": 13,
         *         "seat": null,
         *         "state": "every_piece",
         *         "features": [
         *           {
         *             "feature_id": "12",
         *             "characteristic": "12",
         *             "places": null,
         *             "gauge_id": "5",
         *             "sure_piece": true,
         *             "rule": "after_change",
         *             "why": "first piece after a change of its register: was it keyed, with the right sign, into the right register?"
         *           }
         *         ],
         *         "left_out": [],
         *         "next_pieces": [
         *           14,
         *           15,
         *           16
         *         ],
         *         "wait_for_result": true
         *       },
         *       "intervals": {
         *         "first": 1,
         *         "largest": 10,
         *         "usual": 3.3
         *       },
         *       "tools": [
         *         {
         *           "tool_id": "2",
         *           "number": 7,
         *           "name": "10 mm finishing end mill",
         *           "pieces_cut": 200,
         *           "life": 400,
         *           "life_from": "planned",
         *           "edges_ended": 0,
         *           "changes": 1,
         *           "edges": 2,
         *           "why": "An edge is planned for 400 pieces; the one in use has cut 200: 1 change."
         *         }
         *       ],
         *       "registers": [
         *         {
         *           "register_id": "4",
         *           "tool_id": "2",
         *           "number": 7,
         *           "label": "D7 wear",
         *           "unit": "mm",
         *           "value_now": -0.024,
         *           "fresh_edge_start": -0.01,
         *           "safe_start": 0.02,
         *           "edge_known": true,
         *           "edges_remembered": 0
         *         }
         *       ],
         *       "features": [
         *         {
         *           "feature_id": "12",
         *           "characteristic": "12",
         *           "place": null,
         *           "expected_size": 6.0021,
         *           "uncertainty": 0.008,
         *           "unit": "mm",
         *           "chance_outside": 0.0001
         *         }
         *       ],
         *       "measuring": {
         *         "basis": "history",
         *         "readings": 152.5,
         *         "minutes": null,
         *         "assumed_minutes": null,
         *         "by_feature": [
         *           {
         *             "feature_id": "12",
         *             "characteristic": "12",
         *             "readings": 152.5,
         *             "gauge_id": "5",
         *             "minutes_per_reading": null,
         *             "minutes": null
         *           }
         *         ]
         *       },
         *       "in_doubt": {
         *         "pieces": 25,
         *         "holds_seen": 1,
         *         "pieces_seen": 10,
         *         "why": "In 200 pieces 10 were held, at 1 time: about 25 in 500."
         *       }
         *     }
         */
        Outlook: {
            /** @description The part */
            part_id: string;
            /** @description The machine */
            machine_id: string;
            /** @description How many pieces */
            quantity: number;
            /** @description What it rests on */
            rests_on: {
                /** @description Earlier batches of the part on this machine: at most the latest 20 */
                batches: string[];
                /** @description Pieces cut in them */
                pieces: number;
                /** @description Readings taken in them */
                readings: number;
                /** @description Edges of its tools that have been taken out, by whatever part */
                edges_ended: number;
            };
            /** @description What is not known, in sentences; nothing is assumed for it */
            unknown: string[];
            /** @description What to measure on the first piece */
            first_check: components["schemas"]["CheckPlan"];
            /** @description How often it will be measured */
            intervals: {
                /** @description Pieces from one check to the next at the start */
                first: number;
                /** @description The largest interval that the part allows */
                largest: number;
                /** @description Pieces for each reading of the feature measured most often, in earlier batches; null: none */
                usual: number | null;
            };
            /** @description Edges that it will take */
            tools: {
                /** @description A tool that cuts it */
                tool_id: string;
                /** @description Its number */
                number: number;
                /** @description Its name */
                name: string;
                /** @description Pieces that the edge in use has cut */
                pieces_cut: number;
                /** @description Pieces to plan an edge for; null: not known */
                life: number | null;
                /** @description `edges`: by which one in ten has failed; `planned`: as the tool was set up */
                life_from: ("edges" | "planned") | null;
                /** @description Edges that have been taken out so far */
                edges_ended: number;
                /** @description Changes of the edge during the batch; null: not known */
                changes: number | null;
                /** @description Edges needed, the one in use among them */
                edges: number | null;
                /** @description The same in words */
                why: string;
            }[];
            /** @description Where its registers should start */
            registers: {
                /** @description A register that moves its features */
                register_id: string;
                /** @description Its tool; null: a work offset */
                tool_id: string | null;
                /** @description Its number at the control */
                number: number;
                /** @description Its label at the control */
                label: string;
                /**
                 * @description The machine's unit
                 * @enum {string}
                 */
                unit: "mm" | "inch";
                /** @description What it holds now, as far as known */
                value_now: number;
                /** @description What to key with a fresh edge, aiming at the targets */
                fresh_edge_start: number;
                /** @description The same leaving metal, for who measures and cuts again */
                safe_start: number;
                /** @description True: the edge in use has been measured, so its wear is in the expected sizes */
                edge_known: boolean;
                /** @description Earlier edges of it on this part that the start rests on */
                edges_remembered: number;
            }[];
            /** @description What the sizes of the first piece should come out with if nothing is touched; of other kinds of characteristics nothing is expected */
            features: {
                /** @description A feature */
                feature_id: string;
                /** @description Its balloon number */
                characteristic: string;
                /** @description Where on it; null: it has no places */
                place: string | null;
                /** @description Size expected of the first piece with the registers as they are */
                expected_size: number;
                /** @description Standard deviation of that piece about it */
                uncertainty: number;
                /**
                 * @description The part's unit
                 * @enum {string}
                 */
                unit: "mm" | "inch";
                /** @description Chance that the first piece is outside its limits */
                chance_outside: number;
            }[];
            /** @description What measuring it will take */
            measuring: {
                /**
                 * @description `history`: from what earlier batches took; `plan`: from the check plan alone, if every check is good: the least there will be
                 * @enum {string}
                 */
                basis: "history" | "plan";
                /** @description Readings to be expected */
                readings: number;
                /** @description Minutes that they take; null: a gauge's minutes are neither known nor given */
                minutes: number | null;
                /** @description Minutes for a reading that the request gave, where it was needed; null: it was not */
                assumed_minutes: number | null;
                /** @description The same by feature */
                by_feature: {
                    /** @description The feature */
                    feature_id: string;
                    /** @description Its balloon number */
                    characteristic: string;
                    /** @description Readings of it to be expected */
                    readings: number;
                    /** @description Gauge that it is mostly measured with; null: not known */
                    gauge_id: string | null;
                    /** @description Minutes for one, if somebody has said */
                    minutes_per_reading: number | null;
                    /** @description Minutes for all of them */
                    minutes: number | null;
                }[];
            };
            /** @description Pieces in doubt */
            in_doubt: {
                /** @description Pieces to be expected on hold sooner or later; null: not known */
                pieces: number | null;
                /** @description Times that pieces were held in earlier batches */
                holds_seen: number;
                /** @description Pieces held then */
                pieces_seen: number;
                /** @description The same in words */
                why: string;
            };
        };
        /**
         * @description A drawing at one revision
         * @example {
         *       "part_id": "8",
         *       "number": "HB-2041",
         *       "revision": "B",
         *       "name": "Hinge bracket",
         *       "unit": "mm",
         *       "material": "aluminium",
         *       "expansion_coefficient": 23,
         *       "expansion_uncertainty": 0.5,
         *       "expansion_from": "material",
         *       "decision_rule": "simple",
         *       "general_tolerance": "m",
         *       "title_block": null,
         *       "guard_band_factor": 1,
         *       "risk": 0.005,
         *       "largest_interval": 10,
         *       "created_at": "2026-03-02T06:30:00.000Z",
         *       "features": []
         *     }
         */
        Part: {
            /** @description Identity of the part */
            part_id: string;
            /** @description Drawing number */
            number: string;
            /** @description Revision of the drawing */
            revision: string;
            /** @description What it is called */
            name: string | null;
            /**
             * @description Unit of the drawing; every size of the part is in it
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description What it is made of: a name that GET /v1/materials lists gives its coefficient of expansion, any other is kept as it is */
            material: string | null;
            /** @description Coefficient of linear expansion that counts, µm per metre and kelvin: the one given, else that of the material; null: not known */
            expansion_coefficient: number | null;
            /** @description Its standard uncertainty, in the same unit */
            expansion_uncertainty: number | null;
            /** @description Where it comes from: `given` as a number, or known of the `material` */
            expansion_from: ("given" | "material") | null;
            /**
             * @description How a verdict takes the uncertainty of the reading into account. `simple`: by the limits. `guarded_acceptance`: conforming inside the limits drawn in by the guard band, nonconforming beyond the limits. `guarded_rejection`: conforming inside the limits, nonconforming beyond them by more than the guard band. `iso_14253`: both guarded. In between uncertain
             * @enum {string}
             */
            decision_rule: "simple" | "guarded_acceptance" | "guarded_rejection" | "iso_14253";
            /** @description What the drawing writes behind "ISO 2768-", for every feature that says nothing about its limits: a class of part 1 for sizes and angles (f, m, c, v), of part 2 for forms (H, K, L), or both, such as "mK" */
            general_tolerance: ("f" | "m" | "c" | "v" | "H" | "K" | "L" | "fH" | "fK" | "fL" | "mH" | "mK" | "mL" | "cH" | "cK" | "cL" | "vH" | "vK" | "vL") | null;
            /** @description The drawing's table of general tolerances by decimal places, for every feature that says nothing about its limits */
            title_block: {
                /** @description Decimal places with which the nominal size is written */
                places: number;
                /** @description Limits lie this much below and above the nominal size */
                plus_minus: number;
            }[] | null;
            /** @description Guard band in expanded uncertainties of the reading; without meaning under `simple` */
            guard_band_factor: number;
            /** @description The probability of being out of limits up to which a piece may go unmeasured */
            risk: number;
            /** @description The most pieces from one check to the next, however well the run goes */
            largest_interval: number;
            /**
             * Format: date-time
             * @description When it was set up
             */
            created_at: string;
            /** @description Its features, in the order of the drawing */
            features: components["schemas"]["Feature"][];
        };
        /**
         * @description A proposal that was accepted, with its part
         * @example {
         *       "proposal": {
         *         "proposal_id": "3",
         *         "status": "open",
         *         "source": "measuring room",
         *         "number": "HB-2041",
         *         "revision": "B",
         *         "name": "Hinge bracket",
         *         "unit": "mm",
         *         "features": [
         *           {
         *             "item": "23",
         *             "type": "Diameter",
         *             "characteristic": "12",
         *             "name": "BORE_A",
         *             "kind": null,
         *             "kinds": [
         *               "external",
         *               "internal"
         *             ],
         *             "geometric_characteristic": null,
         *             "nominal": "12",
         *             "lower_limit": "11.95",
         *             "upper_limit": "12.05",
         *             "missing": [
         *               "kind"
         *             ],
         *             "notes": []
         *           }
         *         ],
         *         "left_out": [
         *           {
         *             "item": "31",
         *             "type": "Thread",
         *             "name": "M6",
         *             "reason": "a characteristic of type Thread has no kind here"
         *           }
         *         ],
         *         "known_part": null,
         *         "part_id": null,
         *         "by": null,
         *         "reason": null,
         *         "created_at": "2026-03-02T07:41:00.000Z",
         *         "decided_at": null
         *       },
         *       "part": {
         *         "part_id": "8",
         *         "number": "HB-2041",
         *         "revision": "B",
         *         "name": "Hinge bracket",
         *         "unit": "mm",
         *         "material": "aluminium",
         *         "expansion_coefficient": 23,
         *         "expansion_uncertainty": 0.5,
         *         "expansion_from": "material",
         *         "decision_rule": "simple",
         *         "general_tolerance": "m",
         *         "title_block": null,
         *         "guard_band_factor": 1,
         *         "risk": 0.005,
         *         "largest_interval": 10,
         *         "created_at": "2026-03-02T06:30:00.000Z",
         *         "features": []
         *       }
         *     }
         */
        PartAccepted: {
            proposal: components["schemas"]["PartProposal"];
            /** @description The part as it is kept */
            part: components["schemas"]["Part"];
        };
        /**
         * @description What becomes known of a part's material, and how closely it is checked; what is absent stays, and null takes a value away
         * @example {
         *       "expansion_coefficient": 23.4
         *     }
         */
        PartChange: {
            /** @description What it is made of: a name that GET /v1/materials lists gives its coefficient of expansion, any other is kept as it is */
            material?: string | null;
            /** @description Its coefficient of linear expansion near 20 °C, µm per metre and kelvin (10⁻⁶ per kelvin): steel 11.5. Absent: that of `material`, where GET /v1/materials lists it */
            expansion_coefficient?: (number | string) | null;
            /** @description Standard uncertainty of that coefficient; one known to ± a counts as a / √3. Absent: a tenth of the coefficient counts as that a */
            expansion_uncertainty?: (number | string) | null;
            /** @description The probability of being out of limits up to which a piece may go unmeasured */
            risk?: number;
            /** @description The most pieces from one check to the next, however well the run goes */
            largest_interval?: number;
        };
        /**
         * @description A drawing at one revision, with its features
         * @example {
         *       "number": "HB-2041",
         *       "revision": "B",
         *       "name": "Hinge bracket",
         *       "unit": "mm",
         *       "material": "aluminium",
         *       "decision_rule": "simple",
         *       "general_tolerance": "m",
         *       "features": [
         *         {
         *           "characteristic": "12",
         *           "name": "Tongue width",
         *           "kind": "external",
         *           "operation": "20",
         *           "nominal": "6",
         *           "lower_deviation": -0.05,
         *           "upper_deviation": 0.05,
         *           "target": 6,
         *           "importance": "ordinary",
         *           "decision_rule": "guarded_acceptance",
         *           "guard_band_factor": 1,
         *           "cut_by": [
         *             {
         *               "register_id": "21",
         *               "walls": 2
         *             }
         *           ],
         *           "gauge_id": "5",
         *           "places": [
         *             "top",
         *             "bottom"
         *           ],
         *           "drawing_zone": "sheet 2, B4",
         *           "pattern": null,
         *           "at": {
         *             "x": 40,
         *             "y": 0,
         *             "z": -12
         *           },
         *           "axis": "x",
         *           "depth": 12
         *         },
         *         {
         *           "characteristic": "13",
         *           "name": "Bore",
         *           "kind": "internal",
         *           "nominal": "20",
         *           "fit": "H7"
         *         },
         *         {
         *           "characteristic": "14",
         *           "name": "Overall length",
         *           "kind": "length",
         *           "nominal": "80"
         *         },
         *         {
         *           "characteristic": "15",
         *           "name": "Bore to edges",
         *           "kind": "position",
         *           "upper_limit": 0.1,
         *           "material_condition": "maximum",
         *           "size_of": {
         *             "characteristic": "13"
         *           }
         *         },
         *         {
         *           "characteristic": "16",
         *           "kind": "angle",
         *           "nominal": "44°30'0\"",
         *           "general_tolerance": "m",
         *           "shorter_leg": 25
         *         },
         *         {
         *           "characteristic": "17",
         *           "kind": "roughness",
         *           "roughness_parameter": "Ra",
         *           "upper_limit": 0.8
         *         },
         *         {
         *           "characteristic": "18",
         *           "kind": "go_no_go",
         *           "gauged": "internal_thread",
         *           "thread_standard": "iso_metric"
         *         }
         *       ]
         *     }
         */
        PartCreate: {
            /** @description Drawing number */
            number: string;
            /** @description Revision of the drawing; number and revision together only once */
            revision: string;
            /** @description What it is called */
            name?: string | null;
            /**
             * @description Unit of the drawing; every size of the part is in it
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description What it is made of: a name that GET /v1/materials lists gives its coefficient of expansion, any other is kept as it is */
            material?: string | null;
            /** @description Its coefficient of linear expansion near 20 °C, µm per metre and kelvin (10⁻⁶ per kelvin): steel 11.5. Absent: that of `material`, where GET /v1/materials lists it */
            expansion_coefficient?: (number | string) | null;
            /** @description Standard uncertainty of that coefficient; one known to ± a counts as a / √3. Absent: a tenth of the coefficient counts as that a */
            expansion_uncertainty?: (number | string) | null;
            /**
             * @description How a verdict takes the uncertainty of the reading into account. `simple`: by the limits. `guarded_acceptance`: conforming inside the limits drawn in by the guard band, nonconforming beyond the limits. `guarded_rejection`: conforming inside the limits, nonconforming beyond them by more than the guard band. `iso_14253`: both guarded. In between uncertain
             * @default simple
             * @enum {string}
             */
            decision_rule?: "simple" | "guarded_acceptance" | "guarded_rejection" | "iso_14253";
            /** @description What the drawing writes behind "ISO 2768-", for every feature that says nothing about its limits: a class of part 1 for sizes and angles (f, m, c, v), of part 2 for forms (H, K, L), or both, such as "mK" */
            general_tolerance?: ("f" | "m" | "c" | "v" | "H" | "K" | "L" | "fH" | "fK" | "fL" | "mH" | "mK" | "mL" | "cH" | "cK" | "cL" | "vH" | "vK" | "vL") | null;
            /** @description The drawing's table of general tolerances by decimal places, for every feature that says nothing about its limits; instead of general_tolerance */
            title_block?: {
                /** @description Decimal places with which the nominal size is written */
                places: number;
                /** @description Limits lie this much below and above the nominal size, in the part's unit */
                plus_minus: number | string;
            }[] | null;
            /**
             * @description Guard band in expanded uncertainties of the reading; without meaning under `simple`
             * @default 1
             */
            guard_band_factor?: number;
            /**
             * @description The probability of being out of limits up to which a piece may go unmeasured; 0.005 if absent
             * @default 0.005
             */
            risk?: number;
            /**
             * @description The most pieces from one check to the next, however well the run goes; 10 if absent
             * @default 10
             */
            largest_interval?: number;
            /** @description Its features, in the order of the drawing. Limits and decision rules only change with a new revision */
            features: components["schemas"]["FeatureCreate"][];
        };
        /** @description One page of a list */
        PartList: {
            /** @description This page, oldest first */
            items: components["schemas"]["PartSummary"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description What a document says of a part, for a person to accept
         * @example {
         *       "proposal_id": "3",
         *       "status": "open",
         *       "source": "measuring room",
         *       "number": "HB-2041",
         *       "revision": "B",
         *       "name": "Hinge bracket",
         *       "unit": "mm",
         *       "features": [
         *         {
         *           "item": "23",
         *           "type": "Diameter",
         *           "characteristic": "12",
         *           "name": "BORE_A",
         *           "kind": null,
         *           "kinds": [
         *             "external",
         *             "internal"
         *           ],
         *           "geometric_characteristic": null,
         *           "nominal": "12",
         *           "lower_limit": "11.95",
         *           "upper_limit": "12.05",
         *           "missing": [
         *             "kind"
         *           ],
         *           "notes": []
         *         }
         *       ],
         *       "left_out": [
         *         {
         *           "item": "31",
         *           "type": "Thread",
         *           "name": "M6",
         *           "reason": "a characteristic of type Thread has no kind here"
         *         }
         *       ],
         *       "known_part": null,
         *       "part_id": null,
         *       "by": null,
         *       "reason": null,
         *       "created_at": "2026-03-02T07:41:00.000Z",
         *       "decided_at": null
         *     }
         */
        PartProposal: {
            /** @description Identity of the proposal */
            proposal_id: string;
            /**
             * @description Whether a person has decided about it
             * @enum {string}
             */
            status: "open" | "accepted" | "declined";
            /** @description What people know the document by */
            source: string | null;
            /** @description Drawing number in the document; null: it gives none */
            number: string | null;
            /** @description Its revision */
            revision: string | null;
            /** @description What the document calls the part */
            name: string | null;
            /**
             * @description Unit that the part would have
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description What would be its features, in the order of the document */
            features: {
                /** @description Id of the characteristic in the document, or its name in a file read by a layout; for `features` when it is accepted */
                item: string;
                /** @description What the document calls it, such as Diameter; of a file read by a layout: size, angle, position, result or count */
                type: string;
                /** @description Its balloon number; its name where the document has none */
                characteristic: string;
                /** @description Its name, where that is another text */
                name: string | null;
                /** @description Its kind; null: the document leaves open which of `kinds` */
                kind: ("external" | "internal" | "depth" | "height" | "length" | "position" | "angle" | "form" | "roughness" | "count" | "go_no_go" | "visual") | null;
                /** @description What it can be */
                kinds: ("external" | "internal" | "depth" | "height" | "length" | "position" | "angle" | "form" | "roughness" | "count" | "go_no_go" | "visual")[];
                /** @description Of a form, which one */
                geometric_characteristic: ("straightness" | "flatness" | "roundness" | "cylindricity" | "line_profile" | "surface_profile" | "parallelism" | "perpendicularity" | "angularity" | "concentricity" | "coaxiality" | "symmetry" | "circular_run_out" | "total_run_out") | null;
                /** @description Places at which it is measured, where the document has it on several features; absent: on one */
                places?: string[];
                /** @description Nominal size in the part's unit, an angle in degrees; null: it has none */
                nominal: string | null;
                /** @description Lower limit; null: none */
                lower_limit: string | null;
                /** @description Upper limit; null: none */
                upper_limit: string | null;
                /** @description What a person has to say before it can be a feature */
                missing: ("kind" | "limits")[];
                /** @description What is odd about it */
                notes: string[];
            }[];
            /** @description Characteristics that can't be features */
            left_out: {
                /** @description Id in the document */
                item: string;
                /** @description What the document calls it */
                type: string;
                /** @description Its name */
                name: string;
                /** @description Why it can't be a feature here */
                reason: string;
            }[];
            /** @description The part that is known already: its readings can be imported as they are; limits that differ want a new revision. Null: none is */
            known_part: {
                /** @description The part */
                part_id: string;
                /** @description Its drawing number */
                number: string;
                /** @description Its revision */
                revision: string;
                /**
                 * @description By its number, or by an earlier document of it that a person has accepted
                 * @enum {string}
                 */
                found_by: "number" | "earlier_document";
                /** @description In what the document differs from it; empty: in nothing */
                differs: {
                    /** @description Balloon number */
                    characteristic: string;
                    /** @description In what document and part differ */
                    what: string;
                }[];
            } | null;
            /** @description The part that was made of it; null: not yet */
            part_id: string | null;
            /** @description Who decided */
            by: string | null;
            /** @description Why it was declined */
            reason: string | null;
            /**
             * Format: date-time
             * @description When it came
             */
            created_at: string;
            /** @description When it was decided */
            decided_at: string | null;
        };
        /**
         * @description A person's yes to a proposed part, with what the document leaves open
         * @example {
         *       "by": "R. Stone",
         *       "number": "HB-2041",
         *       "revision": "B",
         *       "name": null,
         *       "decision_rule": "simple",
         *       "general_tolerance": null,
         *       "material": "aluminium",
         *       "features": [
         *         {
         *           "item": "23",
         *           "kind": "internal",
         *           "leave_out": false
         *         }
         *       ]
         *     }
         */
        PartProposalAccept: {
            /** @description Who has compared it with the drawing */
            by: string;
            /** @description Drawing number; absent: the document's */
            number?: string | null;
            /** @description Revision; absent: the document's */
            revision?: string | null;
            /** @description What the part is called; absent: as in the document */
            name?: string | null;
            /**
             * @description How a verdict takes the uncertainty of the reading into account. `simple`: by the limits. `guarded_acceptance`: conforming inside the limits drawn in by the guard band, nonconforming beyond the limits. `guarded_rejection`: conforming inside the limits, nonconforming beyond them by more than the guard band. `iso_14253`: both guarded. In between uncertain
             * @default simple
             * @enum {string}
             */
            decision_rule?: "simple" | "guarded_acceptance" | "guarded_rejection" | "iso_14253";
            /** @description What the drawing writes behind "ISO 2768-", for every feature that says nothing about its limits: a class of part 1 for sizes and angles (f, m, c, v), of part 2 for forms (H, K, L), or both, such as "mK" */
            general_tolerance?: ("f" | "m" | "c" | "v" | "H" | "K" | "L" | "fH" | "fK" | "fL" | "mH" | "mK" | "mL" | "cH" | "cK" | "cL" | "vH" | "vK" | "vL") | null;
            /** @description What it is made of: a name that GET /v1/materials lists gives its coefficient of expansion, any other is kept as it is */
            material?: string | null;
            /**
             * @description What the document leaves open, or says otherwise; those not named here are taken as proposed
             * @default []
             */
            features?: ({
                /** @description Which of the proposed features; ids of the document */
                item: string;
                /**
                 * @description True: it does not become a feature
                 * @default false
                 */
                leave_out?: boolean;
            } & {
                [key: string]: unknown;
            })[];
        };
        /**
         * @description A person's no to a proposed part
         * @example {
         *       "reason": "revision C is valid by now",
         *       "by": "R. Stone"
         *     }
         */
        PartProposalDecline: {
            /** @description Why */
            reason: string;
            /** @description Who says so */
            by?: string | null;
        };
        /** @description One page of a list */
        PartProposalList: {
            /** @description This page, newest first */
            items: components["schemas"]["PartProposal"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A drawing at one revision, without its features
         * @example {
         *       "part_id": "8",
         *       "number": "HB-2041",
         *       "revision": "B",
         *       "name": "Hinge bracket",
         *       "unit": "mm",
         *       "material": "aluminium",
         *       "expansion_coefficient": 23,
         *       "expansion_uncertainty": 0.5,
         *       "expansion_from": "material",
         *       "decision_rule": "simple",
         *       "general_tolerance": "m",
         *       "title_block": null,
         *       "guard_band_factor": 1,
         *       "risk": 0.005,
         *       "largest_interval": 10,
         *       "created_at": "2026-03-02T06:30:00.000Z"
         *     }
         */
        PartSummary: {
            /** @description Identity of the part */
            part_id: string;
            /** @description Drawing number */
            number: string;
            /** @description Revision of the drawing */
            revision: string;
            /** @description What it is called */
            name: string | null;
            /**
             * @description Unit of the drawing; every size of the part is in it
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description What it is made of: a name that GET /v1/materials lists gives its coefficient of expansion, any other is kept as it is */
            material: string | null;
            /** @description Coefficient of linear expansion that counts, µm per metre and kelvin: the one given, else that of the material; null: not known */
            expansion_coefficient: number | null;
            /** @description Its standard uncertainty, in the same unit */
            expansion_uncertainty: number | null;
            /** @description Where it comes from: `given` as a number, or known of the `material` */
            expansion_from: ("given" | "material") | null;
            /**
             * @description How a verdict takes the uncertainty of the reading into account. `simple`: by the limits. `guarded_acceptance`: conforming inside the limits drawn in by the guard band, nonconforming beyond the limits. `guarded_rejection`: conforming inside the limits, nonconforming beyond them by more than the guard band. `iso_14253`: both guarded. In between uncertain
             * @enum {string}
             */
            decision_rule: "simple" | "guarded_acceptance" | "guarded_rejection" | "iso_14253";
            /** @description What the drawing writes behind "ISO 2768-", for every feature that says nothing about its limits: a class of part 1 for sizes and angles (f, m, c, v), of part 2 for forms (H, K, L), or both, such as "mK" */
            general_tolerance: ("f" | "m" | "c" | "v" | "H" | "K" | "L" | "fH" | "fK" | "fL" | "mH" | "mK" | "mL" | "cH" | "cK" | "cL" | "vH" | "vK" | "vL") | null;
            /** @description The drawing's table of general tolerances by decimal places, for every feature that says nothing about its limits */
            title_block: {
                /** @description Decimal places with which the nominal size is written */
                places: number;
                /** @description Limits lie this much below and above the nominal size */
                plus_minus: number;
            }[] | null;
            /** @description Guard band in expanded uncertainties of the reading; without meaning under `simple` */
            guard_band_factor: number;
            /** @description The probability of being out of limits up to which a piece may go unmeasured */
            risk: number;
            /** @description The most pieces from one check to the next, however well the run goes */
            largest_interval: number;
            /**
             * Format: date-time
             * @description When it was set up
             */
            created_at: string;
        };
        /**
         * @description What a part would be if it were set up so
         * @example {
         *       "features": [
         *         {
         *           "characteristic": "12",
         *           "unit": "mm",
         *           "limits_from": "deviations",
         *           "lower_limit": 5.95,
         *           "upper_limit": 6.05,
         *           "target": 6,
         *           "cut_by": [
         *             {
         *               "tool_id": "12",
         *               "register_id": "21",
         *               "effect": 2
         *             }
         *           ]
         *         }
         *       ]
         *     }
         */
        PartTrial: {
            /** @description The features in the order in which they were sent */
            features: {
                /** @description Its balloon number on the drawing; each only once in a part */
                characteristic: string;
                /** @description Unit of its sizes: the part's; of an angle deg; of a roughness um in a part in mm, uin in one in inch; null: it has none */
                unit: ("mm" | "inch" | "deg" | "µm" | "µin") | null;
                /** @description Which way the limits come about; null: it passes or fails */
                limits_from: ("deviations" | "limits" | "fit" | "general_tolerance" | "title_block") | null;
                /** @description Lower limit of size; a size on it conforms */
                lower_limit: number | null;
                /** @description Upper limit of size; a size on it conforms */
                upper_limit: number | null;
                /** @description The size to aim at; null: it passes or fails */
                target: number | null;
                /** @description How the registers move it */
                cut_by: {
                    /** @description The tool that cuts it; null: the register is a work offset */
                    tool_id: string | null;
                    /** @description The register that moves the feature, a tool's or a work offset; null where the tool cuts it and no register does */
                    register_id: string | null;
                    /** @description Change of the size per +1 in the register, both in the same unit */
                    effect: number | null;
                }[];
            }[];
        };
        /**
         * @description Everything that is known of one piece
         * @example {
         *       "batch_id": "3",
         *       "piece": 12,
         *       "seat": null,
         *       "serials": [],
         *       "cuts": 1,
         *       "disposition": "accept",
         *       "on_hold": false,
         *       "why": "Every feature is measured good on it or lies between good pieces as the check plan wanted.",
         *       "features": [
         *         {
         *           "feature_id": "12",
         *           "characteristic": "12",
         *           "name": "Tongue width",
         *           "place": null,
         *           "proof": "measured",
         *           "disposition": "accept",
         *           "good_before": 11,
         *           "good_after": 13,
         *           "rule": null,
         *           "due": null,
         *           "why": "Measured good.",
         *           "readings": [
         *             {
         *               "reading_id": "3-1",
         *               "feature_id": "12",
         *               "characteristic": "12",
         *               "batch_id": "3",
         *               "piece": 12,
         *               "cut": 1,
         *               "place": null,
         *               "spring_pass": false,
         *               "repeat": 1,
         *               "value": 6.04,
         *               "unit": "mm",
         *               "rocked": null,
         *               "dx": null,
         *               "dy": null,
         *               "dz": null,
         *               "result": null,
         *               "turns": null,
         *               "state": null,
         *               "size": 6.04,
         *               "size_unit": "mm",
         *               "size_as_read": 6.04,
         *               "gauge_error": null,
         *               "gauge_doubt": null,
         *               "gauge_deviation": null,
         *               "gauge_deviation_uncertainty": null,
         *               "temperature_c": null,
         *               "gauge_temperature_c": null,
         *               "temperature_correction": null,
         *               "temperature_correction_uncertainty": null,
         *               "expansion_coefficient": null,
         *               "gauge_expansion_coefficient": null,
         *               "feature_size": null,
         *               "bonus": null,
         *               "verdict": "conforming",
         *               "disposition": "accept",
         *               "why": null,
         *               "arithmetic": [],
         *               "fit": null,
         *               "advice": null,
         *               "deviation": 0.04,
         *               "from_target": 0.04,
         *               "tolerance_used": 0.8,
         *               "lower_limit": 5.95,
         *               "upper_limit": 6.05,
         *               "target": 6,
         *               "operation_limits": null,
         *               "decision_rule": "simple",
         *               "expanded_uncertainty": 0.003,
         *               "guard_band": 0,
         *               "lower_acceptance_limit": 5.95,
         *               "upper_acceptance_limit": 6.05,
         *               "lower_rejection_limit": 5.95,
         *               "upper_rejection_limit": 6.05,
         *               "probability_conforming": 1,
         *               "prior": "flat",
         *               "risk": {
         *                 "borne_by": "consumer",
         *                 "probability": 0
         *               },
         *               "flags": [],
         *               "slip": null,
         *               "gauge_advice": null,
         *               "hold": null,
         *               "gauge_id": "5",
         *               "measured_at": "2026-03-02T07:41:00.000Z",
         *               "taken_by": "shift A",
         *               "key": "computer at mill-2",
         *               "serial": null,
         *               "source_id": null,
         *               "piece_within": null,
         *               "seat": null,
         *               "seat_given": false,
         *               "voided": null
         *             }
         *           ]
         *         }
         *       ],
         *       "registers": [
         *         {
         *           "cut": 1,
         *           "register_id": "4",
         *           "tool_id": "2",
         *           "number": 7,
         *           "label": "D7 wear",
         *           "unit": "mm",
         *           "value": -0.02,
         *           "from_piece": 9,
         *           "from_cut": 1,
         *           "reason": null,
         *           "by": "shift A"
         *         }
         *       ],
         *       "edges": [
         *         {
         *           "tool_id": "2",
         *           "tool_number": 7,
         *           "tool": "10 mm finishing end mill",
         *           "edge_id": "6",
         *           "number": 1,
         *           "from_piece": null,
         *           "pieces_cut": 12
         *         }
         *       ],
         *       "interruption": null,
         *       "decisions": []
         *     }
         */
        Piece: {
            /** @description The batch */
            batch_id: string;
            /** @description The piece, numbered in cutting order */
            piece: number;
            /** @description Seat in the fixture; null: the batch names none */
            seat: string | null;
            /** @description Serial numbers that its readings give */
            serials: string[];
            /** @description How often it was cut, as far as readings and decisions say */
            cuts: number;
            /**
             * @description `accept`: proved good, by readings of its own or between good pieces; `open`: nothing is against it, but no good piece after it closes the gap yet; `remeasure`: in doubt, or not decided by its readings; `rework` or `scrap`: failed, with or without metal left; or what was decided: `rework`, `scrap`, `use_as_is`, `repair`, `return`
             * @enum {string}
             */
            disposition: "accept" | "open" | "remeasure" | "rework" | "scrap" | "use_as_is" | "repair" | "return";
            /** @description True: it must not go out as things stand */
            on_hold: boolean;
            /** @description The same in words */
            why: string;
            /** @description What is known of each feature, in the part's order */
            features: {
                /** @description The feature */
                feature_id: string;
                /** @description Its balloon number */
                characteristic: string;
                /** @description Its name */
                name: string | null;
                /** @description Where on the feature: each place stands for itself; null: it has no places */
                place: string | null;
                /**
                 * @description `measured`: by its own readings; `covered`: not due on it by the check plan in force, and good pieces before and after it; `not_closed`: not due on it, but no good piece after it yet; `missed`: due on it and not measured; `in_doubt`: on hold; `rework_due`: given to rework and not measured good since
                 * @enum {string}
                 */
                proof: "measured" | "covered" | "not_closed" | "missed" | "in_doubt" | "rework_due";
                /**
                 * @description What it makes of the piece before anything was decided about it
                 * @enum {string}
                 */
                disposition: "accept" | "open" | "remeasure" | "rework" | "scrap";
                /** @description Last piece before it that was good as it left the machine; null: none */
                good_before: number | null;
                /** @description First such piece after it; null: none yet */
                good_after: number | null;
                /** @description Rule of the check plan that was in force; null: measured, or no good piece before */
                rule: string | null;
                /** @description Piece on which the plan then in force wanted the next check */
                due: number | null;
                /** @description How it is proved, or why not */
                why: string;
                /** @description Its readings on this piece, by cut; voided ones among them */
                readings: components["schemas"]["Reading"][];
            }[];
            /** @description What the registers held that move its features, for each cut */
            registers: {
                /** @description Which cut of the piece */
                cut: number;
                /** @description The register */
                register_id: string;
                /** @description Its tool; null: a work offset */
                tool_id: string | null;
                /** @description Its number at the control */
                number: number;
                /** @description Its label at the control */
                label: string;
                /**
                 * @description Unit of the value: the machine's
                 * @enum {string}
                 */
                unit: "mm" | "inch";
                /** @description What it held when the piece was cut */
                value: number;
                /** @description It holds this from that piece on; null: since the batch began */
                from_piece: number | null;
                /** @description And from that cut of it on */
                from_cut: number | null;
                /** @description Why it was entered */
                reason: string | null;
                /** @description Who entered it */
                by: string | null;
            }[];
            /** @description The cutting edges that made it */
            edges: {
                /** @description The tool */
                tool_id: string;
                /** @description Its number */
                tool_number: number;
                /** @description Its name */
                tool: string;
                /** @description Edge that cut the piece; null: not known */
                edge_id: string | null;
                /** @description Number of the edge on this tool */
                number: number | null;
                /** @description It cuts in this batch from that piece on; null: since the batch began */
                from_piece: number | null;
                /** @description How many pieces it had cut with this one, as far as known */
                pieces_cut: number | null;
            }[];
            /** @description The last interruption before it was cut; null: none */
            interruption: {
                /** @description Identity */
                interruption_id: string;
                /** @description First piece cut after it */
                from_piece: number;
                /** @description What happened */
                kind: string;
                /** @description What exactly */
                note: string | null;
            } | null;
            /** @description All decisions about it, oldest first; the last valid one counts */
            decisions: components["schemas"]["PieceDecision"][];
        };
        /**
         * @description What is to become of pieces that are in doubt or out of limits, and who decided it
         * @example {
         *       "decision_id": "2",
         *       "batch_id": "3",
         *       "from_piece": 50,
         *       "to_piece": 50,
         *       "decision": "use_as_is",
         *       "authority": "customer, concession C-114",
         *       "nonconformance": "N-7",
         *       "note": null,
         *       "measure_again": null,
         *       "decided_at": "2026-03-02T09:10:00.000Z",
         *       "by": "quality",
         *       "created_at": "2026-03-02T09:10:00.000Z",
         *       "voided": null
         *     }
         */
        PieceDecision: {
            /** @description Identity of the decision */
            decision_id: string;
            /** @description The batch */
            batch_id: string;
            /** @description First piece, in cutting order */
            from_piece: number;
            /** @description Last piece, itself included */
            to_piece: number;
            /**
             * @description `rework`: cut again fully to the drawing, and measured again before it counts as good; `scrap`; `use_as_is` and `repair` do not end at the drawing and need an authority; `return`: back to whom it came from
             * @enum {string}
             */
            decision: "rework" | "scrap" | "use_as_is" | "repair" | "return";
            /** @description Who had the right to decide it, such as the customer or the design authority, with the reference of the permission */
            authority: string | null;
            /** @description Number of the nonconformance report */
            nonconformance: string | null;
            /** @description What exactly */
            note: string | null;
            /** @description `rework`: the features that have to be measured again */
            measure_again: string[] | null;
            /**
             * Format: date-time
             * @description When it was decided
             */
            decided_at: string;
            /** @description Who entered it */
            by: string | null;
            /**
             * Format: date-time
             * @description When it was entered
             */
            created_at: string;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
        };
        /**
         * @description What is to become of one piece
         * @example {
         *       "decision": "rework",
         *       "authority": null,
         *       "nonconformance": "N-7",
         *       "by": "quality"
         *     }
         */
        PieceDecisionCreate: {
            /**
             * @description `rework`: cut again fully to the drawing, and measured again before it counts as good; `scrap`; `use_as_is` and `repair` do not end at the drawing and need an authority; `return`: back to whom it came from
             * @enum {string}
             */
            decision: "rework" | "scrap" | "use_as_is" | "repair" | "return";
            /** @description Who had the right to decide it, such as the customer or the design authority, with the reference of the permission; required for `use_as_is` and `repair` */
            authority?: string | null;
            /** @description Number of the nonconformance report */
            nonconformance?: string | null;
            /** @description What exactly */
            note?: string | null;
            /** @description `rework`: the features that have to be measured again; absent: every feature of the batch, since a piece put back in the fixture has lost its old zero. Whoever names them must name at least what failed */
            measure_again?: string[];
            /**
             * Format: date-time
             * @description When it was decided; absent: now. Of a rework only what is measured after it counts
             */
            decided_at?: string;
            /** @description Who enters it */
            by?: string | null;
        };
        /** @description One page of a list */
        PieceDecisionList: {
            /** @description This page, oldest first */
            items: components["schemas"]["PieceDecision"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description What is to become of ranges of pieces
         * @example {
         *       "pieces": [
         *         {
         *           "from_piece": 41,
         *           "to_piece": 49
         *         }
         *       ],
         *       "decision": "scrap",
         *       "nonconformance": "N-7",
         *       "by": "quality"
         *     }
         */
        PieceDecisionsCreate: {
            /** @description Ranges of pieces that it is about */
            pieces: {
                /** @description First piece, in cutting order */
                from_piece: number;
                /** @description Last piece, itself included */
                to_piece: number;
            }[];
            /**
             * @description `rework`: cut again fully to the drawing, and measured again before it counts as good; `scrap`; `use_as_is` and `repair` do not end at the drawing and need an authority; `return`: back to whom it came from
             * @enum {string}
             */
            decision: "rework" | "scrap" | "use_as_is" | "repair" | "return";
            /** @description Who had the right to decide it, such as the customer or the design authority, with the reference of the permission; required for `use_as_is` and `repair` */
            authority?: string | null;
            /** @description Number of the nonconformance report */
            nonconformance?: string | null;
            /** @description What exactly */
            note?: string | null;
            /** @description `rework`: the features that have to be measured again; absent: every feature of the batch, since a piece put back in the fixture has lost its old zero. Whoever names them must name at least what failed */
            measure_again?: string[];
            /**
             * Format: date-time
             * @description When it was decided; absent: now. Of a rework only what is measured after it counts
             */
            decided_at?: string;
            /** @description Who enters it */
            by?: string | null;
        };
        /**
         * @description One piece by feature
         * @example {
         *       "piece": 12,
         *       "seat": null,
         *       "serials": [],
         *       "cuts": 1,
         *       "disposition": "accept",
         *       "on_hold": false,
         *       "why": "Every feature is measured good on it or lies between good pieces as the check plan wanted.",
         *       "cells": [
         *         {
         *           "proof": "measured",
         *           "disposition": "accept",
         *           "readings": 1,
         *           "cut": 1,
         *           "verdict": "conforming",
         *           "result": "6.04",
         *           "size": 6.04,
         *           "from_target": 0.04,
         *           "tolerance_used": 0.8
         *         }
         *       ]
         *     }
         */
        PieceRow: {
            /** @description The piece, numbered in cutting order */
            piece: number;
            /** @description Seat in the fixture; null: the batch names none */
            seat: string | null;
            /** @description Serial numbers that its readings give */
            serials: string[];
            /** @description How often it was cut, as far as readings say */
            cuts: number;
            /**
             * @description `accept`: proved good, by readings of its own or between good pieces; `open`: nothing is against it, but no good piece after it closes the gap yet; `remeasure`: in doubt, or not decided by its readings; `rework` or `scrap`: failed, with or without metal left; or what was decided: `rework`, `scrap`, `use_as_is`, `repair`, `return`
             * @enum {string}
             */
            disposition: "accept" | "open" | "remeasure" | "rework" | "scrap" | "use_as_is" | "repair" | "return";
            /** @description True: it must not go out as things stand */
            on_hold: boolean;
            /** @description The same in words */
            why: string;
            /** @description One for each column, in their order */
            cells: {
                /**
                 * @description `measured`: by its own readings; `covered`: not due on it by the check plan in force, and good pieces before and after it; `not_closed`: not due on it, but no good piece after it yet; `missed`: due on it and not measured; `in_doubt`: on hold; `rework_due`: given to rework and not measured good since
                 * @enum {string}
                 */
                proof: "measured" | "covered" | "not_closed" | "missed" | "in_doubt" | "rework_due";
                /**
                 * @description What it makes of the piece before anything was decided about it
                 * @enum {string}
                 */
                disposition: "accept" | "open" | "remeasure" | "rework" | "scrap";
                /** @description How often it was read on this piece, voided readings left out */
                readings: number;
                /** @description Which cut the reading that decides is of; null: not read */
                cut: number | null;
                /** @description Verdict of the reading that decides; null: not read */
                verdict: ("conforming" | "nonconforming" | "uncertain") | null;
                /** @description What that reading says, as the gauge gave it or in a word; null: not read */
                result: string | null;
                /** @description The size it was judged by; null: not read, or it has none */
                size: number | null;
                /** @description Size less target; null likewise */
                from_target: number | null;
                /** @description Share of the way from target to the limit on that side; 1 is on the limit; null likewise */
                tolerance_used: number | null;
            }[];
        };
        /**
         * @description Pieces of a batch by feature: what was measured, and how the rest is proved
         * @example {
         *       "batch_id": "3",
         *       "last_piece_cut": 13,
         *       "features": [
         *         {
         *           "feature_id": "12",
         *           "characteristic": "12",
         *           "name": "Tongue width",
         *           "place": null,
         *           "unit": "mm",
         *           "lower_limit": 5.95,
         *           "upper_limit": 6.05,
         *           "target": 6
         *         }
         *       ],
         *       "items": [
         *         {
         *           "piece": 12,
         *           "seat": null,
         *           "serials": [],
         *           "cuts": 1,
         *           "disposition": "accept",
         *           "on_hold": false,
         *           "why": "Every feature is measured good on it or lies between good pieces as the check plan wanted.",
         *           "cells": [
         *             {
         *               "proof": "measured",
         *               "disposition": "accept",
         *               "readings": 1,
         *               "cut": 1,
         *               "verdict": "conforming",
         *               "result": "6.04",
         *               "size": 6.04,
         *               "from_target": 0.04,
         *               "tolerance_used": 0.8
         *             }
         *           ]
         *         }
         *       ],
         *       "next_cursor": "MTI"
         *     }
         */
        PieceTable: {
            /** @description The batch */
            batch_id: string;
            /** @description Last piece known to be cut; 0: none yet */
            last_piece_cut: number;
            /** @description The columns, in the part's order; a feature with places has one for each */
            features: {
                /** @description The feature */
                feature_id: string;
                /** @description Its balloon number */
                characteristic: string;
                /** @description Its name */
                name: string | null;
                /** @description Where on the feature; null: it has no places */
                place: string | null;
                /** @description Unit of its sizes; null: it has none */
                unit: string | null;
                /** @description Lower limit of size; null: there is none */
                lower_limit: number | null;
                /** @description Upper limit of size; null: there is none */
                upper_limit: number | null;
                /** @description The aim; null: it has no size */
                target: number | null;
            }[];
            /** @description This page of pieces, in cutting order */
            items: components["schemas"]["PieceRow"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description What the places of a feature amount to on one piece: the worst decides
         * @example {
         *       "feature_id": "12",
         *       "characteristic": "12",
         *       "batch_id": "3",
         *       "piece": 12,
         *       "cut": 1,
         *       "verdict": "nonconforming",
         *       "disposition": "rework",
         *       "worst_place": "bottom",
         *       "missing": [],
         *       "difference": 0.06,
         *       "unit": "mm",
         *       "difference_of_tolerance": 0.6,
         *       "shape": "taper",
         *       "why": "12 Tongue width: bottom is the worst place and decides: nonconforming. 12 Tongue width reads 25.060 mm at bottom and 25.000 mm at top, a difference of 0.060 mm (taper)."
         *     }
         */
        PlacesSummary: {
            /** @description Feature */
            feature_id: string;
            /** @description Its balloon number */
            characteristic: string;
            /** @description Batch of the piece */
            batch_id: string;
            /** @description Piece */
            piece: number;
            /** @description The last cut of it that was measured: what was read before counts no more */
            cut: number;
            /**
             * @description That of the worst place
             * @enum {string}
             */
            verdict: "conforming" | "nonconforming" | "uncertain";
            /** @description Likewise; null: open until the missing places are measured */
            disposition: ("accept" | "rework" | "scrap" | "remeasure") | null;
            /** @description The place that decides */
            worst_place: string;
            /** @description Places of which there is no reading of this cut yet */
            missing: string[];
            /** @description Largest less smallest size; null: fewer than two places are measured */
            difference: number | null;
            /** @description Unit of the feature; null: what is counted, or passes or fails, has none */
            unit: ("mm" | "inch" | "deg" | "µm" | "µin") | null;
            /** @description The difference over the width of the tolerance; above 1 no register value suits all places */
            difference_of_tolerance: number | null;
            /** @description What the sizes say of the form, in the order of the places */
            shape: ("even" | "taper" | "barrel" | "waist" | "oval" | "uneven") | null;
            /** @description The same in words */
            why: string;
        };
        /**
         * @description What the points of a reading came to, in its size_unit
         * @example {
         *       "points": 4,
         *       "redundancy": 1,
         *       "ball_diameter": 6,
         *       "diameter": 30.003,
         *       "centre": [
         *         40.001,
         *         24.998
         *       ],
         *       "arc_deg": 270,
         *       "form_least_squares": 0.0045,
         *       "form_minimum_zone": 0.0045,
         *       "uncertainty_factor": 1
         *     }
         */
        PointsFit: {
            /** @description How many there are */
            points: number;
            /** @description How many more than determine the element: 0 shows no error */
            redundancy: number;
            /** @description Diameter of the ball whose centres they are; null: points of the surface */
            ball_diameter: number | null;
            /** @description Of the surface, by the least-squares circle; null: no circle was asked for, or nobody said on which side the ball was */
            diameter: number | null;
            /** @description Centre of that circle, in the coordinates of the points; null: likewise */
            centre: number[] | null;
            /** @description How far round they reach, in degrees; null: likewise */
            arc_deg: number | null;
            /** @description Largest less smallest deviation from the least-squares circle, line, plane or cylinder */
            form_least_squares: number;
            /** @description Width of the narrowest zone that holds them all; null: not given for a cylinder, nor for an arc of less than 180° */
            form_minimum_zone: number | null;
            /** @description How many times less well the size is known than one point; at least 1, large on a short arc */
            uncertainty_factor: number;
        };
        /**
         * @description An error (RFC 9457)
         * @example {
         *       "type": "urn:onsize:problem:validation",
         *       "title": "The request is not formed as the contract says",
         *       "status": 400,
         *       "detail": "/kind: must be one of \"mill\", \"lathe\", not \"mil\".",
         *       "errors": [
         *         {
         *           "pointer": "/kind",
         *           "detail": "must be one of \"mill\", \"lathe\", not \"mil\""
         *         }
         *       ]
         *     }
         */
        Problem: {
            /** @description What kind of problem it is; a program may rely on it */
            type: string;
            /** @description The kind of problem in words; the same for every problem of a type */
            title: string;
            /** @description The HTTP status, again */
            status: number;
            /** @description What is wrong this time, and what to do about it */
            detail: string;
            /** @description The single faults, where there is a place to point to */
            errors?: {
                /** @description JSON pointer into the body; the bare name of a query, path or header parameter */
                pointer: string;
                /** @description What is wrong there, and what to send instead */
                detail: string;
            }[];
        };
        /**
         * @description How far a gauge is up to a feature; one-sided, twice the way from target to limit is the tolerance
         * @example {
         *       "gauge_id": "5",
         *       "name": "micrometer 0-25 no. 3",
         *       "kind": "micrometer",
         *       "reference": true,
         *       "calibration_due": "2027-03-01",
         *       "fitness": "ample",
         *       "test_ratio": 16.67,
         *       "capability_index": 16.67,
         *       "resolution_ratio": 100,
         *       "why": "Tolerance over twice its expanded uncertainty of 0.003 mm: 16.7 to 1, better than the rule of ten."
         *     }
         */
        RatedGauge: {
            /** @description The gauge */
            gauge_id: string;
            /** @description What the shop calls it */
            name: string;
            /** @description Sort of gauge */
            kind: string;
            /** @description Whether it may prove a size */
            reference: boolean;
            /** @description The last day on which its calibration holds */
            calibration_due: string | null;
            /**
             * @description By `capability_index`: `ample` from 10, `fit` from 4, `marginal` below; `too_coarse` where it proves and steers nothing, below 2 with the target in the middle. With fewer than 10 steps of the display in the tolerance at most `marginal`
             * @enum {string}
             */
            fitness: "ample" | "fit" | "marginal" | "too_coarse";
            /** @description Tolerance over twice the expanded uncertainty; null: it is not known */
            test_ratio: number | null;
            /** @description Tolerance over four times the standard uncertainty, which is the larger of what is claimed and what repeatability and display leave (JCGM 106) */
            capability_index: number;
            /** @description Steps of its display in the tolerance; 10 are the least to start with */
            resolution_ratio: number;
            /** @description The rating in words */
            why: string;
        };
        /** @description One page of a list */
        RatedGaugeList: {
            /** @description This page, finest first */
            items: components["schemas"]["RatedGauge"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description One reading with its verdict
         * @example {
         *       "reading_id": "3-1",
         *       "feature_id": "12",
         *       "characteristic": "12",
         *       "batch_id": "3",
         *       "piece": 12,
         *       "cut": 1,
         *       "place": null,
         *       "spring_pass": false,
         *       "repeat": 1,
         *       "value": 6.04,
         *       "unit": "mm",
         *       "rocked": null,
         *       "dx": null,
         *       "dy": null,
         *       "dz": null,
         *       "result": null,
         *       "turns": null,
         *       "state": null,
         *       "size": 6.04,
         *       "size_unit": "mm",
         *       "size_as_read": 6.04,
         *       "gauge_error": null,
         *       "gauge_doubt": null,
         *       "gauge_deviation": null,
         *       "gauge_deviation_uncertainty": null,
         *       "temperature_c": null,
         *       "gauge_temperature_c": null,
         *       "temperature_correction": null,
         *       "temperature_correction_uncertainty": null,
         *       "expansion_coefficient": null,
         *       "gauge_expansion_coefficient": null,
         *       "feature_size": null,
         *       "bonus": null,
         *       "verdict": "conforming",
         *       "disposition": "accept",
         *       "why": null,
         *       "arithmetic": [],
         *       "fit": null,
         *       "advice": null,
         *       "deviation": 0.04,
         *       "from_target": 0.04,
         *       "tolerance_used": 0.8,
         *       "lower_limit": 5.95,
         *       "upper_limit": 6.05,
         *       "target": 6,
         *       "operation_limits": null,
         *       "decision_rule": "simple",
         *       "expanded_uncertainty": 0.003,
         *       "guard_band": 0,
         *       "lower_acceptance_limit": 5.95,
         *       "upper_acceptance_limit": 6.05,
         *       "lower_rejection_limit": 5.95,
         *       "upper_rejection_limit": 6.05,
         *       "probability_conforming": 1,
         *       "prior": "flat",
         *       "risk": {
         *         "borne_by": "consumer",
         *         "probability": 0
         *       },
         *       "flags": [],
         *       "slip": null,
         *       "gauge_advice": null,
         *       "hold": null,
         *       "gauge_id": "5",
         *       "measured_at": "2026-03-02T07:41:00.000Z",
         *       "taken_by": "shift A",
         *       "key": "computer at mill-2",
         *       "serial": null,
         *       "source_id": null,
         *       "piece_within": null,
         *       "seat": null,
         *       "seat_given": false,
         *       "voided": null
         *     }
         */
        Reading: {
            /** @description Identity of the reading */
            reading_id: string;
            /** @description Feature measured */
            feature_id: string;
            /** @description Its balloon number */
            characteristic: string;
            /** @description Batch of the piece */
            batch_id: string;
            /** @description Piece, numbered in cutting order */
            piece: number;
            /** @description 1; 2 and more where the piece was cut again */
            cut: number;
            /** @description Where on the feature it was measured; null: the feature has no places */
            place: string | null;
            /** @description True: that further cut was made at the same register values, and counts as the tool's size */
            spring_pass: boolean;
            /** @description 1 for the first reading of this feature on this piece and cut, 2 for the second */
            repeat: number;
            /** @description What the gauge showed, in `unit`; an angle as a decimal, of a position that came as offsets the diameter of the zone that just holds it; null: it passed or failed, or there is nothing */
            value: number | null;
            /** @description Unit of `value` and of the offsets; null: there is none */
            unit: ("mm" | "µm" | "nm" | "inch" | "µin" | "deg" | "arcmin" | "arcsec" | "rad") | null;
            /** @description All that the gauge showed while it was rocked, `value` among it; null: it was not */
            rocked: number[] | null;
            /** @description Of a position: offset along x, as it was sent; null: it came without */
            dx: number | null;
            /** @description Likewise along y */
            dy: number | null;
            /** @description Likewise along z */
            dz: number | null;
            /** @description What a limit gauge or the eye said; null: a number was read */
            result: ("pass" | "fail" | "go_refuses" | "no_go_enters") | null;
            /** @description How far the NO-GO side of a thread gauge went in; null: not said */
            turns: number | null;
            /** @description Why there is nothing; null: there is. The piece is to be measured again */
            state: ("not_measured" | "error" | "over_range") | null;
            /** @description The size kept, in `size_unit`, which decides: less `gauge_deviation`; at 20 °C where the reading said how warm it was; for a gauge that shows a deviation master and deviation together; a position rounded up to a whole picometre, an angle in radians to a nano-arcsecond. Null: none was read */
            size: number | null;
            /** @description The feature's unit: of this and all sizes that follow; null: they have none */
            size_unit: ("mm" | "inch" | "deg" | "µm" | "µin") | null;
            /** @description The size as the gauge showed it, before its error and its deviation from the reference gauge were taken off and it was brought to 20 °C; the same as `size` where none was done */
            size_as_read: number | null;
            /** @description Error of the gauge by its check on a standard that was taken off `size_as_read`; null: none was */
            gauge_error: number | null;
            /** @description How far a check before or after the reading shows its gauge off (flag `gauge_in_doubt`); null: none does */
            gauge_doubt: number | null;
            /** @description How much larger than the feature's reference gauge this one was known to read when the reading was judged, learned from pieces that both have read: taken off what was read to give `size`. Null: it is the reference, or none is named */
            gauge_deviation: number | null;
            /** @description Standard uncertainty of `gauge_deviation` */
            gauge_deviation_uncertainty: number | null;
            /** @description How warm the part was, °C; null: not said */
            temperature_c: number | null;
            /** @description How warm the gauge was, °C */
            gauge_temperature_c: number | null;
            /** @description What was added to `size_as_read`: below 0 for a warm part; null: no temperature was given */
            temperature_correction: number | null;
            /** @description Standard uncertainty of that correction, from both temperatures (each known within 1 °C, side by side within 0.5 °C of each other) and both coefficients */
            temperature_correction_uncertainty: number | null;
            /** @description Coefficient of the part that was used, µm per metre and kelvin */
            expansion_coefficient: number | null;
            /** @description That of the gauge; null also where it was at 20 °C and nothing is known of it */
            gauge_expansion_coefficient: number | null;
            /** @description Of a position at maximum or least material: size of its feature that counted; null: not known */
            feature_size: number | null;
            /** @description What that size adds to the position tolerance, in `upper_limit` already; null: nothing known */
            bonus: number | null;
            /**
             * @description By the decision rule
             * @enum {string}
             */
            verdict: "conforming" | "nonconforming" | "uncertain";
            /**
             * @description `rework`: metal is left to remove; `scrap`: too much is gone, or nobody said how it could be reworked
             * @enum {string}
             */
            disposition: "accept" | "rework" | "scrap" | "remeasure";
            /** @description Why the verdict is `uncertain`, and what to do; or what else than the number it follows from; null: nothing to add */
            why: string | null;
            /** @description How a size comes about from points, or a position and what is allowed for it, line by line; else empty */
            arithmetic: string[];
            /** @description What the points came to; null: it came as a value */
            fit: components["schemas"]["PointsFit"] | null;
            /** @description A step of a register that may be tried, where a limit gauge refused; null: none was given */
            advice: string | null;
            /** @description Size less nominal (ISO 286); null: its kind has none */
            deviation: number | null;
            /** @description Size less target; null: no size was read */
            from_target: number | null;
            /** @description Share of the way from target to the limit on that side; 1 is on the limit; null: no limit there */
            tolerance_used: number | null;
            /** @description Lower limit of size; null: none */
            lower_limit: number | null;
            /** @description Upper limit of size; null: none */
            upper_limit: number | null;
            /** @description The aim on that day; null: it passes or fails */
            target: number | null;
            /** @description Set where the limits above are those of an operation before the last; null: they are the drawing's */
            operation_limits: {
                /** @description Operation of the batch, which has limits of its own */
                operation: string;
                /** @description Why they are others than the drawing's */
                reason: string | null;
                /** @description Lower limit of the drawing; null: none */
                final_lower_limit: number | null;
                /** @description Upper limit of the drawing; null: none */
                final_upper_limit: number | null;
                /** @description What the size comes to with the layer in the middle of its tolerance; null: nothing is plated */
                size_after_plating: number | null;
            } | null;
            /** @description The rule used; null: it passes or fails, which takes none */
            decision_rule: ("simple" | "guarded_acceptance" | "guarded_rejection" | "iso_14253") | null;
            /** @description Expanded uncertainty used, with what the temperatures and `gauge_deviation` add; null: not known */
            expanded_uncertainty: number | null;
            /** @description Guard band used: factor times expanded uncertainty, 0 under `simple`; null: the uncertainty is not known */
            guard_band: number | null;
            /** @description A size on it and inside is `conforming`; null: no limit there, or no guard band known */
            lower_acceptance_limit: number | null;
            /** @description Likewise above; below the lower one where the guard band leaves nothing of the tolerance */
            upper_acceptance_limit: number | null;
            /** @description A size below it is `nonconforming`; null: no limit there, or no guard band known */
            lower_rejection_limit: number | null;
            /** @description Likewise above */
            upper_rejection_limit: number | null;
            /** @description Probability that the true size is inside the limits, by the reading and the `prior`; null: of what is counted or passes or fails nobody knows it */
            probability_conforming: number | null;
            /**
             * @description What was held of the size before the reading: `flat`, nothing; `process`, what the pieces before it let expect
             * @enum {string}
             */
            prior: "flat" | "process";
            /** @description Risk that this verdict is wrong for this piece (JCGM 106); null: `uncertain` decides nothing, or no probability is known */
            risk: {
                /**
                 * @description `consumer`: accepted although out of limits; `producer`: rejected although inside them
                 * @enum {string}
                 */
                borne_by: "consumer" | "producer";
                /** @description Probability that it is so */
                probability: number;
            } | null;
            /** @description `implausible` (not used until a second reading agrees), `readings_disagree`, `gauge_overdue`, `gauge_too_coarse`, `gauge_in_doubt` (a check on a standard shows the gauge off), `gauge_not_compared` (what the gauge reads beside the reference gauge is not known within a quarter of the room: only what is beyond doubt is decided), `too_alike` (the last of more equal readings than scatter allows), `warm_part` (the correction to 20 °C is above a tenth of the tolerance or the gauge's expanded uncertainty, or too unsure), `late`, `clock_ahead` (measured_at lies ahead of the service's clock: one of the two is wrong; the order of pieces does not depend on it), `piece_unsure`, `earlier_reading_failed`, `no_value` (the gauge gave nothing), `size_not_known` and `size_out` (of the feature that earns a bonus), `duplicate` */
            flags: string[];
            /** @description Slip of hand or eye that would explain an implausible reading */
            slip: string | null;
            /** @description Which gauge to take instead, where this one is too coarse; null: it is not */
            gauge_advice: string | null;
            /** @description Pieces in doubt since the last good reading by a gauge that may prove it; where a gauge beside the reference raises the doubt, since the last check that it found good; null: none */
            hold: {
                /** @description First piece in doubt */
                from_piece: number;
                /** @description Last piece in doubt */
                to_piece: number;
                /** @description True: it may be a misreading, and is settled by measuring the piece again */
                provisional: boolean;
                /** @description What ends a provisional hold; GET /v1/batches/{batch_id}/holds says it of the others */
                released_by: string | null;
            } | null;
            /** @description Gauge that took it; null: none was needed */
            gauge_id: string | null;
            /** @description When it was taken; null: not said */
            measured_at: string | null;
            /** @description Who took it */
            taken_by: string | null;
            /** @description Name of the key it came with; null: none was asked for */
            key: string | null;
            /** @description Serial number of the piece */
            serial: string | null;
            /** @description The sender's own identity of it */
            source_id: string | null;
            /** @description The piece is one of the last so many up to `piece` */
            piece_within: number | null;
            /** @description Where in the fixture the piece sat; null: the batch names no seats, or the piece is not sure */
            seat: string | null;
            /** @description True: a reading of this piece said so; false: it follows from the piece's number */
            seat_given: boolean;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
        };
        /**
         * @description One measured value of one feature of one piece, by ids or by names
         * @example {
         *       "part_number": "HB-2041",
         *       "revision": "B",
         *       "characteristic": "12",
         *       "batch": "B-118",
         *       "piece": 12,
         *       "value": "6.04",
         *       "unit": "mm",
         *       "gauge": "micrometer 0-25 no. 3"
         *     }
         */
        ReadingCreate: {
            /** @description Feature measured */
            feature_id?: string;
            /** @description Or by names: part number */
            part_number?: string;
            /** @description Its revision */
            revision?: string;
            /** @description Balloon number of the feature on the drawing */
            characteristic?: string;
            /** @description Batch of the piece */
            batch_id?: string;
            /** @description Or its name */
            batch?: string;
            /** @description Piece, numbered in cutting order from 1 */
            piece: number;
            /** @description 2 and more: the same piece cut again. Absent: 1 */
            cut?: number;
            /** @description Where on the feature it was measured: needed where the feature has places, one of them */
            place?: string;
            /** @description True with cut 2 or more: the pass was repeated at the same register values. What it measures is then the size that the tool makes, and corrections go by it. Only where the programme keeps that pass */
            spring_pass?: boolean;
            /** @description What the gauge showed: a decimal, or an angle as degrees, minutes and seconds, such as "44°59'30"" or "44 59 30" */
            value?: number | string;
            /** @description Instead of `value`: all that the gauge showed while it was rocked or turned. In an internal feature the smallest size counts, where it stands square to the axis, over an external one the largest */
            rocked?: (number | string)[];
            /**
             * @description Unit of `value`, of `points` and `ball_diameter`, or of `dx`, `dy`, `dz` and `size`, which need it: mm, um, nm, inch or uin, of an angle deg, arcmin, arcsec or rad
             * @enum {string}
             */
            unit?: "mm" | "inch" | "in" | "um" | "µm" | "μm" | "nm" | "uin" | "µin" | "μin" | "deg" | "arcmin" | "arcsec" | "rad";
            /** @description Instead of `value`: points that a probe or a coordinate machine touched, of a round internal or external feature (its diameter by the least-squares circle), of its position (the centre of that circle) or of a form (flatness, straightness, roundness by the minimum zone, cylindricity by least squares). The gauge's uncertainty is taken to be that of one point */
            points?: (number | string)[][];
            /** @description Where the points are centres of the probe's ball: its diameter, which is added inside and taken off outside. Absent: points of the surface */
            ball_diameter?: number | string;
            /** @description With points of a position: where its centre should be, in the coordinates of the points and with as many of them; absent: the feature's `at`, where the points count from the part's zero too. `dx`, `dy` and at maximum or least material the size follow from the fitted circle */
            true_position?: (number | string)[];
            /** @description Of a position, instead of `value`: how far it lies from the true position along x; with `dy`, and `dz` where the zone is a sphere */
            dx?: number | string;
            /** @description Likewise along y */
            dy?: number | string;
            /** @description Likewise along z */
            dz?: number | string;
            /** @description Of a position at maximum or least material: size of the feature on this piece, from which the bonus follows. Absent: the latest reading of that feature on the same piece and cut */
            size?: number | string;
            /**
             * @description Instead of `value`, of what passes or fails: for go_no_go pass, go_refuses or no_go_enters; for visual pass or fail
             * @enum {string}
             */
            result?: "pass" | "fail" | "go_refuses" | "no_go_enters";
            /** @description How far the NO-GO side of a thread gauge went in until it stopped or dragged definitely: whether that is allowed follows from the standard of the thread */
            turns?: number | string;
            /** @description Instead of `value`, of what is counted: how many there are */
            count?: number;
            /**
             * @description Instead of all of these, where the gauge gave nothing: kept as told, without a verdict, and the piece is to be measured again
             * @enum {string}
             */
            state?: "not_measured" | "error" | "over_range";
            /** @description Gauge that took it; absent: the one that the feature names */
            gauge_id?: string;
            /** @description Or its name */
            gauge?: string;
            /**
             * Format: date-time
             * @description When it was taken
             */
            measured_at?: string;
            /** @description Who took it */
            taken_by?: string;
            /** @description Serial number of the piece */
            serial?: string;
            /** @description The sender's own identity of this reading: sent again it is a duplicate */
            source_id?: string;
            /** @description The piece is one of the last so many up to `piece`; where a change lies in between it gets a verdict only */
            piece_within?: number;
            /** @description Where in the fixture the piece sat, one of the batch's seats. Absent: as the other readings of this cut or of the first one have it, else piece k sits in seat (k − 1) mod n of the batch's n seats */
            seat?: string;
            /** @description How warm the part was, °C: the size is then brought to 20 °C. It comes with gauge_temperature_c and needs the part's coefficient of expansion. Absent: the size counts as read */
            temperature_c?: number | string;
            /** @description How warm the gauge was, or the master when it was set on one: the same as temperature_c where it lay beside the part, 20 where it was kept at 20 °C. Other than 20 it needs the gauge's coefficient of expansion */
            gauge_temperature_c?: number | string;
            /** @description Offsets in force as a log prints them: they beat the history and are entered in it */
            cut_with?: {
                /** @description The register */
                register_id?: string;
                /** @description Or its number at the control */
                register_number?: number;
                /** @description What it held when this piece was cut, in the machine's unit */
                value: number | string;
            }[];
        };
        /**
         * @description How far an import has come
         * @example {
         *       "import_id": "12",
         *       "status": "complete",
         *       "reason": null,
         *       "source": "mill-2/probe.log",
         *       "layout_id": "4",
         *       "batch_id": "3",
         *       "next_offset": 4711,
         *       "lines": 121,
         *       "accepted": 118,
         *       "duplicates": 2,
         *       "repeated": 0,
         *       "not_measured": 0,
         *       "refused_count": 1,
         *       "skipped": 0,
         *       "verdicts": {
         *         "conforming": 117,
         *         "nonconforming": 1,
         *         "uncertain": 0
         *       },
         *       "results_differ": 0,
         *       "limits_differ": 0,
         *       "started_at": "2026-03-02T07:41:00.000Z",
         *       "moved_at": "2026-03-02T07:41:01.000Z",
         *       "ended_at": "2026-03-02T07:41:01.000Z"
         *     }
         */
        ReadingImport: {
            /** @description Identity of the import; null: a dry run, which is not kept */
            import_id: string | null;
            /**
             * @description `open`: more is to come, or it was cut off and goes on at next_offset; `failed`: it can't be read to its end
             * @enum {string}
             */
            status: "open" | "complete" | "failed";
            /** @description Why it failed; null: it did not */
            reason: string | null;
            /** @description What people know the file by */
            source: string | null;
            /** @description How it is read */
            layout_id: string;
            /** @description Batch of all its readings; null: each says its own */
            batch_id: string | null;
            /** @description Up to here its bytes are dealt with: where to go on */
            next_offset: number;
            /** @description Lines dealt with */
            lines: number;
            /** @description Readings taken in */
            accepted: number;
            /** @description Readings that were there before */
            duplicates: number;
            /** @description Readings that say the very same as one before in this file, and nothing that tells them apart; listed with the lines */
            repeated: number;
            /** @description Values that the file says are missing */
            not_measured: number;
            /** @description Lines that can't be read or taken, listed with the reason */
            refused_count: number;
            /** @description Lines that tell nothing of a reading */
            skipped: number;
            /** @description Verdicts on what was taken in, by the limits on the drawing */
            verdicts: {
                /** @description Inside by the decision rule */
                conforming: number;
                /** @description Outside */
                nonconforming: number;
                /** @description Neither */
                uncertain: number;
            };
            /** @description Readings on which the file's own verdict, or its own limits, say other than the verdict here */
            results_differ: number;
            /** @description Readings for which the file has other limits than the drawing */
            limits_differ: number;
            /** @description When it began; null: a dry run */
            started_at: string | null;
            /** @description When it last came further */
            moved_at: string | null;
            /** @description When it came to its end; null: not yet */
            ended_at: string | null;
        };
        /** @description One page of a list */
        ReadingImportList: {
            /** @description This page, newest first */
            items: components["schemas"]["ReadingImport"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /** @description One page of a list */
        ReadingList: {
            /** @description This page, oldest first */
            items: components["schemas"]["Reading"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description The points that a reading was worked out from
         * @example {
         *       "reading_id": "3-17",
         *       "points": [
         *         [
         *           52.002,
         *           25
         *         ],
         *         [
         *           40,
         *           36.998
         *         ],
         *         [
         *           28,
         *           25.001
         *         ],
         *         [
         *           40.001,
         *           13
         *         ]
         *       ],
         *       "unit": "mm",
         *       "ball_diameter": "6",
         *       "true_position": null,
         *       "fit": {
         *         "points": 4,
         *         "redundancy": 1,
         *         "ball_diameter": 6,
         *         "diameter": 30.003,
         *         "centre": [
         *           40.001,
         *           24.998
         *         ],
         *         "arc_deg": 270,
         *         "form_least_squares": 0.0045,
         *         "form_minimum_zone": 0.0045,
         *         "uncertainty_factor": 1
         *       }
         *     }
         */
        ReadingPoints: {
            /** @description The reading that they were sent for */
            reading_id: string;
            /** @description As they were sent, in `unit` */
            points: (number | string)[][];
            /** @description Their unit */
            unit: string;
            /** @description In the same unit; null: points of the surface */
            ball_diameter: string | null;
            /** @description Where the centre should be; null: of no position */
            true_position: (number | string)[] | null;
            /** @description What they come to when they are evaluated now, in the reading's size_unit; null: nothing */
            fit: components["schemas"]["PointsFit"] | null;
        };
        /**
         * @description What follows from voiding a reading
         * @example {
         *       "reading": {
         *         "reading_id": "3-1",
         *         "feature_id": "12",
         *         "characteristic": "12",
         *         "batch_id": "3",
         *         "piece": 12,
         *         "cut": 1,
         *         "place": null,
         *         "spring_pass": false,
         *         "repeat": 1,
         *         "value": 6.04,
         *         "unit": "mm",
         *         "rocked": null,
         *         "dx": null,
         *         "dy": null,
         *         "dz": null,
         *         "result": null,
         *         "turns": null,
         *         "state": null,
         *         "size": 6.04,
         *         "size_unit": "mm",
         *         "size_as_read": 6.04,
         *         "gauge_error": null,
         *         "gauge_doubt": null,
         *         "gauge_deviation": null,
         *         "gauge_deviation_uncertainty": null,
         *         "temperature_c": null,
         *         "gauge_temperature_c": null,
         *         "temperature_correction": null,
         *         "temperature_correction_uncertainty": null,
         *         "expansion_coefficient": null,
         *         "gauge_expansion_coefficient": null,
         *         "feature_size": null,
         *         "bonus": null,
         *         "verdict": "conforming",
         *         "disposition": "accept",
         *         "why": null,
         *         "arithmetic": [],
         *         "fit": null,
         *         "advice": null,
         *         "deviation": 0.04,
         *         "from_target": 0.04,
         *         "tolerance_used": 0.8,
         *         "lower_limit": 5.95,
         *         "upper_limit": 6.05,
         *         "target": 6,
         *         "operation_limits": null,
         *         "decision_rule": "simple",
         *         "expanded_uncertainty": 0.003,
         *         "guard_band": 0,
         *         "lower_acceptance_limit": 5.95,
         *         "upper_acceptance_limit": 6.05,
         *         "lower_rejection_limit": 5.95,
         *         "upper_rejection_limit": 6.05,
         *         "probability_conforming": 1,
         *         "prior": "flat",
         *         "risk": {
         *           "borne_by": "consumer",
         *           "probability": 0
         *         },
         *         "flags": [],
         *         "slip": null,
         *         "gauge_advice": null,
         *         "hold": null,
         *         "gauge_id": "5",
         *         "measured_at": "2026-03-02T07:41:00.000Z",
         *         "taken_by": "shift A",
         *         "key": "computer at mill-2",
         *         "serial": null,
         *         "source_id": null,
         *         "piece_within": null,
         *         "seat": null,
         *         "seat_given": false,
         *         "voided": null
         *       },
         *       "next": {
         *         "action": "set_offset",
         *         "piece": 13,
         *         "why": "Change D7 wear of tool 7 by -0.020 mm: it should then read -0.020 mm."
         *       },
         *       "corrections": [
         *         {
         *           "correction_id": "3-1",
         *           "status": "proposed",
         *           "kind": "change",
         *           "tool_id": "2",
         *           "register_id": "4",
         *           "register_number": 7,
         *           "register_label": "D7 wear",
         *           "unit": "mm",
         *           "value_now": 0,
         *           "change": -0.02,
         *           "value_after": -0.02,
         *           "batch_id": "3",
         *           "piece": 12,
         *           "gauge_id": null,
         *           "reading_ids": [
         *             "3-1"
         *           ],
         *           "features": [
         *             {
         *               "feature_id": "12",
         *               "place": null,
         *               "effect": 2,
         *               "unit": "mm",
         *               "expected_before": 6.0397,
         *               "expected_after": 5.9997,
         *               "window": {
         *                 "low": -0.045,
         *                 "high": 0.005
         *               }
         *             }
         *           ],
         *           "causes": null,
         *           "why": "12 Tongue width runs at 6.0397 mm, 79 % of the way from its target to the limit.",
         *           "arithmetic": [
         *             "0.000 mm + (-0.020 mm) = -0.020 mm: D7 wear should then read this."
         *           ],
         *           "cautions": [
         *             "Check sign, register and decimal point at the control before cycle start."
         *           ],
         *           "line": "OFFSET 7 ADD -0.020",
         *           "from_piece": null,
         *           "from_cut": null,
         *           "value_found": null,
         *           "value_set": null,
         *           "was_withdrawn": false,
         *           "found": null,
         *           "reason": null,
         *           "by": null
         *         }
         *       ]
         *     }
         */
        ReadingVoided: {
            /** @description The voided reading */
            reading: components["schemas"]["Reading"];
            next: components["schemas"]["NextStep"];
            /** @description Advice that stands in its batch now */
            corrections: components["schemas"]["Correction"][];
        };
        /**
         * @description What follows from readings
         * @example {
         *       "next": {
         *         "action": "set_offset",
         *         "piece": 13,
         *         "why": "Change D7 wear of tool 7 by -0.020 mm: it should then read -0.020 mm."
         *       },
         *       "readings": [
         *         {
         *           "reading_id": "3-1",
         *           "feature_id": "12",
         *           "characteristic": "12",
         *           "batch_id": "3",
         *           "piece": 12,
         *           "cut": 1,
         *           "place": null,
         *           "spring_pass": false,
         *           "repeat": 1,
         *           "value": 6.04,
         *           "unit": "mm",
         *           "rocked": null,
         *           "dx": null,
         *           "dy": null,
         *           "dz": null,
         *           "result": null,
         *           "turns": null,
         *           "state": null,
         *           "size": 6.04,
         *           "size_unit": "mm",
         *           "size_as_read": 6.04,
         *           "gauge_error": null,
         *           "gauge_doubt": null,
         *           "gauge_deviation": null,
         *           "gauge_deviation_uncertainty": null,
         *           "temperature_c": null,
         *           "gauge_temperature_c": null,
         *           "temperature_correction": null,
         *           "temperature_correction_uncertainty": null,
         *           "expansion_coefficient": null,
         *           "gauge_expansion_coefficient": null,
         *           "feature_size": null,
         *           "bonus": null,
         *           "verdict": "conforming",
         *           "disposition": "accept",
         *           "why": null,
         *           "arithmetic": [],
         *           "fit": null,
         *           "advice": null,
         *           "deviation": 0.04,
         *           "from_target": 0.04,
         *           "tolerance_used": 0.8,
         *           "lower_limit": 5.95,
         *           "upper_limit": 6.05,
         *           "target": 6,
         *           "operation_limits": null,
         *           "decision_rule": "simple",
         *           "expanded_uncertainty": 0.003,
         *           "guard_band": 0,
         *           "lower_acceptance_limit": 5.95,
         *           "upper_acceptance_limit": 6.05,
         *           "lower_rejection_limit": 5.95,
         *           "upper_rejection_limit": 6.05,
         *           "probability_conforming": 1,
         *           "prior": "flat",
         *           "risk": {
         *             "borne_by": "consumer",
         *             "probability": 0
         *           },
         *           "flags": [],
         *           "slip": null,
         *           "gauge_advice": null,
         *           "hold": null,
         *           "gauge_id": "5",
         *           "measured_at": "2026-03-02T07:41:00.000Z",
         *           "taken_by": "shift A",
         *           "key": "computer at mill-2",
         *           "serial": null,
         *           "source_id": null,
         *           "piece_within": null,
         *           "seat": null,
         *           "seat_given": false,
         *           "voided": null
         *         }
         *       ],
         *       "places": [
         *         {
         *           "feature_id": "12",
         *           "characteristic": "12",
         *           "batch_id": "3",
         *           "piece": 12,
         *           "cut": 1,
         *           "verdict": "nonconforming",
         *           "disposition": "rework",
         *           "worst_place": "bottom",
         *           "missing": [],
         *           "difference": 0.06,
         *           "unit": "mm",
         *           "difference_of_tolerance": 0.6,
         *           "shape": "taper",
         *           "why": "12 Tongue width: bottom is the worst place and decides: nonconforming. 12 Tongue width reads 25.060 mm at bottom and 25.000 mm at top, a difference of 0.060 mm (taper)."
         *         }
         *       ],
         *       "corrections": [
         *         {
         *           "correction_id": "3-1",
         *           "status": "proposed",
         *           "kind": "change",
         *           "tool_id": "2",
         *           "register_id": "4",
         *           "register_number": 7,
         *           "register_label": "D7 wear",
         *           "unit": "mm",
         *           "value_now": 0,
         *           "change": -0.02,
         *           "value_after": -0.02,
         *           "batch_id": "3",
         *           "piece": 12,
         *           "gauge_id": null,
         *           "reading_ids": [
         *             "3-1"
         *           ],
         *           "features": [
         *             {
         *               "feature_id": "12",
         *               "place": null,
         *               "effect": 2,
         *               "unit": "mm",
         *               "expected_before": 6.0397,
         *               "expected_after": 5.9997,
         *               "window": {
         *                 "low": -0.045,
         *                 "high": 0.005
         *               }
         *             }
         *           ],
         *           "causes": null,
         *           "why": "12 Tongue width runs at 6.0397 mm, 79 % of the way from its target to the limit.",
         *           "arithmetic": [
         *             "0.000 mm + (-0.020 mm) = -0.020 mm: D7 wear should then read this."
         *           ],
         *           "cautions": [
         *             "Check sign, register and decimal point at the control before cycle start."
         *           ],
         *           "line": "OFFSET 7 ADD -0.020",
         *           "from_piece": null,
         *           "from_cut": null,
         *           "value_found": null,
         *           "value_set": null,
         *           "was_withdrawn": false,
         *           "found": null,
         *           "reason": null,
         *           "by": null
         *         }
         *       ],
         *       "next_checks": [
         *         {
         *           "batch_id": "3",
         *           "piece": 13,
         *           "seat": null,
         *           "state": "every_piece",
         *           "features": [
         *             {
         *               "feature_id": "12",
         *               "characteristic": "12",
         *               "places": null,
         *               "gauge_id": "5",
         *               "sure_piece": true,
         *               "rule": "after_change",
         *               "why": "first piece after a change of its register: was it keyed, with the right sign, into the right register?"
         *             }
         *           ],
         *           "left_out": [],
         *           "next_pieces": [
         *             14,
         *             15,
         *             16
         *           ],
         *           "wait_for_result": true
         *         }
         *       ]
         *     }
         */
        ReadingsAnswer: {
            next: components["schemas"]["NextStep"];
            /** @description The readings as they were taken in, with their verdicts */
            readings: components["schemas"]["Reading"][];
            /** @description For features that are measured at several places: what those places amount to, by piece */
            places: components["schemas"]["PlacesSummary"][];
            /** @description Advice that they gave rise to, changed or withdrew */
            corrections: components["schemas"]["Correction"][];
            /** @description What to measure next */
            next_checks: components["schemas"]["CheckPlan"][];
        };
        /**
         * @description One reading, or up to 5000 taken whole or not at all
         * @example {
         *       "part_number": "HB-2041",
         *       "revision": "B",
         *       "characteristic": "12",
         *       "batch": "B-118",
         *       "piece": 12,
         *       "value": "6.04",
         *       "unit": "mm",
         *       "gauge": "micrometer 0-25 no. 3"
         *     }
         * @example [
         *       {
         *         "part_number": "HB-2041",
         *         "revision": "B",
         *         "characteristic": "12",
         *         "batch": "B-118",
         *         "piece": 12,
         *         "value": "6.04",
         *         "unit": "mm",
         *         "gauge": "micrometer 0-25 no. 3"
         *       }
         *     ]
         */
        ReadingsCreate: components["schemas"]["ReadingCreate"] | components["schemas"]["ReadingCreate"][];
        /** @description A wear-offset register of the control */
        Register: {
            /** @description Identity of the register */
            register_id: string;
            /** @description The control's own number of it */
            number: number;
            /** @description What the control or the shop calls it */
            label: string;
            /**
             * @description What it shifts: `radial` the cutter's radius or diameter, `axial` the tool's length, `x` and `z` the axes of a lathe
             * @enum {string}
             */
            controls: "radial" | "axial" | "x" | "z";
            /** @description Whether the control keeps a radius or a diameter in it; only for `radial` and `x`, and needed there */
            holds: ("radius" | "diameter") | null;
            /**
             * @description `reversed` where a plus entry does the opposite of what is usual for such a register
             * @enum {string}
             */
            sign: "normal" | "reversed";
            /** @description What it held when it was set up here; GET /v1/tools/{tool_id}/wear says what it holds now */
            start_value: number;
            /** @description The most that all corrections of one edge may add up to */
            largest_total: number | null;
        };
        /** @description A wear-offset register of the control */
        RegisterCreate: {
            /** @description The control's own number of it, whatever the tool number */
            number: number;
            /** @description What the control or the shop calls it; no other register of the machine may have this label */
            label: string;
            /**
             * @description What it shifts: `radial` the cutter's radius or diameter, `axial` the tool's length, `x` and `z` the axes of a lathe
             * @enum {string}
             */
            controls: "radial" | "axial" | "x" | "z";
            /** @description Whether the control keeps a radius or a diameter in it; only for `radial` and `x`, and needed there */
            holds?: ("radius" | "diameter") | null;
            /**
             * @description `reversed` where a plus entry does the opposite of what is usual for such a register
             * @default normal
             * @enum {string}
             */
            sign?: "normal" | "reversed";
            /** @description What the control holds in it now */
            value: number | string;
            /** @description The most that all corrections of one edge may add up to */
            largest_total?: (number | string) | null;
        };
        /**
         * @description A value that a register holds from a piece of a batch on
         * @example {
         *       "entry_id": "9",
         *       "register_id": "21",
         *       "batch_id": "3",
         *       "from_piece": 14,
         *       "from_cut": 1,
         *       "value": -0.02,
         *       "unit": "mm",
         *       "origin": "person",
         *       "reason": "tongue ran large",
         *       "correction_id": null,
         *       "edge_id": null,
         *       "follows_entry_id": null,
         *       "by": "shift A",
         *       "created_at": "2026-03-02T07:44:00.000Z",
         *       "voided": null
         *     }
         */
        RegisterEntry: {
            /** @description Identity of the entry */
            entry_id: string;
            /** @description The register */
            register_id: string;
            /** @description The batch that it counts in */
            batch_id: string;
            /** @description The first piece cut with it */
            from_piece: number;
            /** @description 2 and more: from this cut of that piece on */
            from_cut: number;
            /** @description What the register holds from there on */
            value: number;
            /**
             * @description The machine's unit, in which all values here are
             * @enum {string}
             */
            unit: "mm" | "inch";
            /**
             * @description Where it comes from: `person` entered by somebody, `correction` applied as advised, `edge` keyed with a fresh edge, `found` at the control when a correction was applied, `log` printed beside a reading
             * @enum {string}
             */
            origin: "person" | "correction" | "edge" | "found" | "log";
            /** @description Why it was changed */
            reason: string | null;
            /** @description The correction that was applied; null: none */
            correction_id: string | null;
            /** @description The edge that it came with; null: none */
            edge_id: string | null;
            /** @description The entry in another batch of the machine that was made at the same time; null: this is it */
            follows_entry_id: string | null;
            /** @description Who changed it */
            by: string | null;
            /**
             * Format: date-time
             * @description When it was entered
             */
            created_at: string;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
        };
        /**
         * @description An entry of a register, and what follows from it
         * @example {
         *       "entry_id": "9",
         *       "register_id": "21",
         *       "register_label": "D7 wear",
         *       "batch_id": "3",
         *       "from_piece": 14,
         *       "from_cut": 1,
         *       "value_before": 0,
         *       "change": -0.02,
         *       "value": -0.02,
         *       "unit": "mm",
         *       "expected": [
         *         {
         *           "feature_id": "31",
         *           "characteristic": "12",
         *           "size": 5.9997,
         *           "unit": "mm",
         *           "place": null,
         *           "from_latest_reading": 6
         *         }
         *       ],
         *       "warnings": [],
         *       "also_in": [],
         *       "next": {
         *         "action": "measure",
         *         "piece": 14,
         *         "why": "Measure 12 Tongue width on piece 14: first piece after a change of its register: was it keyed, with the right sign, into the right register?"
         *       }
         *     }
         */
        RegisterEntryAnswer: {
            /** @description Identity of the entry */
            entry_id: string;
            /** @description The register */
            register_id: string;
            /** @description What the control or the shop calls it */
            register_label: string;
            /** @description The batch that is being cut */
            batch_id: string;
            /** @description The first piece cut with it */
            from_piece: number;
            /** @description 2 and more: from this cut of that piece on */
            from_cut: number;
            /** @description What it held there before */
            value_before: number;
            /** @description `value` less `value_before` */
            change: number;
            /** @description What it holds from there on */
            value: number;
            /**
             * @description The machine's unit, in which all values here are
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description What the features that it moves come out at with this value */
            expected: {
                /** @description A feature that the register moves */
                feature_id: string;
                /** @description Its balloon number */
                characteristic: string;
                /** @description Size that the next piece cut with this value is expected to have, by all readings; null: none yet */
                size: number | null;
                /**
                 * @description The part's unit, in which its sizes are
                 * @enum {string}
                 */
                unit: "mm" | "inch";
                /** @description The place of it that this is about; null: it has none */
                place: string | null;
                /** @description Size that its latest reading would have had with this value, exactly; null: not measured since the edge is in use */
                from_latest_reading: number | null;
            }[];
            /** @description What to look at before the next piece is cut */
            warnings: string[];
            /** @description Where else it counts: the machine's other open batches */
            also_in: {
                /** @description Another open batch of the machine */
                batch_id: string;
                /** @description The first of its pieces that counts as cut with the change */
                from_piece: number;
            }[];
            next: components["schemas"]["NextStep"];
        };
        /**
         * @description A value that somebody has keyed into a register, not by way of a correction
         * @example {
         *       "batch_id": "3",
         *       "from_piece": 14,
         *       "from_cut": 1,
         *       "value": -0.02,
         *       "reason": "tongue ran large",
         *       "by": "shift A"
         *     }
         */
        RegisterEntryCreate: {
            /** @description The batch that is being cut */
            batch_id: string;
            /** @description The first piece cut with it; absent: the next one */
            from_piece?: number;
            /**
             * @description 2 and more: from this cut of that piece on; 1 if absent
             * @default 1
             */
            from_cut?: number;
            /** @description What the control shows in the register now: the whole value, not the change */
            value: number | string;
            /** @description Why it was changed */
            reason?: string | null;
            /** @description Who changed it */
            by?: string | null;
            /** @description Where it counts in other open batches of the machine; absent: from the piece after the last one known to be cut */
            also_from?: {
                /** @description Another open batch of the machine */
                batch_id: string;
                /** @description The first of its pieces cut with the change */
                from_piece: number;
            }[];
            /**
             * @description The control really shows it, though it is further from the old value than the machine allows
             * @constant
             */
            confirmed?: true;
        };
        /** @description One page of a list */
        RegisterEntryList: {
            /** @description This page, oldest first */
            items: components["schemas"]["RegisterEntry"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description A voided entry, and what follows from voiding it
         * @example {
         *       "entry_id": "9",
         *       "register_id": "21",
         *       "batch_id": "3",
         *       "from_piece": 14,
         *       "from_cut": 1,
         *       "value": -0.02,
         *       "unit": "mm",
         *       "origin": "person",
         *       "reason": "tongue ran large",
         *       "correction_id": null,
         *       "edge_id": null,
         *       "follows_entry_id": null,
         *       "by": "shift A",
         *       "created_at": "2026-03-02T07:44:00.000Z",
         *       "voided": {
         *         "at": "2026-03-02T07:50:00.000Z",
         *         "reason": "keyed into another register",
         *         "by": "shift A"
         *       },
         *       "value_now": 0,
         *       "also_in": [],
         *       "next": {
         *         "action": "set_offset",
         *         "piece": 14,
         *         "why": "Change D7 wear of tool 7 by -0.020 mm: it should then read -0.020 mm."
         *       }
         *     }
         */
        RegisterEntryVoided: {
            /** @description Identity of the entry */
            entry_id: string;
            /** @description The register */
            register_id: string;
            /** @description The batch that it counts in */
            batch_id: string;
            /** @description The first piece cut with it */
            from_piece: number;
            /** @description 2 and more: from this cut of that piece on */
            from_cut: number;
            /** @description What the register holds from there on */
            value: number;
            /**
             * @description The machine's unit, in which all values here are
             * @enum {string}
             */
            unit: "mm" | "inch";
            /**
             * @description Where it comes from: `person` entered by somebody, `correction` applied as advised, `edge` keyed with a fresh edge, `found` at the control when a correction was applied, `log` printed beside a reading
             * @enum {string}
             */
            origin: "person" | "correction" | "edge" | "found" | "log";
            /** @description Why it was changed */
            reason: string | null;
            /** @description The correction that was applied; null: none */
            correction_id: string | null;
            /** @description The edge that it came with; null: none */
            edge_id: string | null;
            /** @description The entry in another batch of the machine that was made at the same time; null: this is it */
            follows_entry_id: string | null;
            /** @description Who changed it */
            by: string | null;
            /**
             * Format: date-time
             * @description When it was entered
             */
            created_at: string;
            /** @description Set where somebody has voided it: it is kept, and counts no more */
            voided: {
                /**
                 * Format: date-time
                 * @description When
                 */
                at: string;
                /** @description Why */
                reason: string;
                /** @description Who said so; null: not said */
                by: string | null;
            } | null;
            /** @description What the register holds from there on without it */
            value_now: number;
            /** @description Where else it counts: the machine's other open batches */
            also_in: {
                /** @description Another open batch of the machine */
                batch_id: string;
                /** @description The first of its pieces that counts as cut with the change */
                from_piece: number;
            }[];
            next: components["schemas"]["NextStep"];
        };
        /**
         * @description Inspection report of a batch; sizes are texts, so that no digit is lost
         * @example {
         *       "batch": {
         *         "batch_id": "3",
         *         "name": "B-118",
         *         "operation": "20",
         *         "quantity": 60,
         *         "pieces_cut": 1,
         *         "machine": "mill 1",
         *         "begun_at": "2026-03-02T07:10:00.000Z",
         *         "closed_at": null,
         *         "closed_by": null
         *       },
         *       "part": {
         *         "number": "HB-2041",
         *         "revision": "B",
         *         "name": "Bearing housing",
         *         "unit": "mm",
         *         "material": "aluminium",
         *         "decision_rule": "simple"
         *       },
         *       "made_at": "2026-03-02T09:00:00.000Z",
         *       "decision_rules": [
         *         "Simple acceptance: a size inside or on its limits conforms, whatever the uncertainty of the gauge (ISO 14253-1 wants that agreed; JCGM 106)."
         *       ],
         *       "cautions": [
         *         "Values stand as they were measured and are not rounded. A size on a limit conforms."
         *       ],
         *       "characteristics": [
         *         {
         *           "feature_id": "12",
         *           "characteristic": "12",
         *           "name": "Tongue width",
         *           "kind": "external",
         *           "geometric_characteristic": null,
         *           "nominal": "6.000",
         *           "requirement": "6 ± 0.05",
         *           "lower_limit": "5.950",
         *           "upper_limit": "6.050",
         *           "unit": "mm",
         *           "importance": "ordinary",
         *           "decision_rule": "simple",
         *           "limits_of": null,
         *           "places": null
         *         }
         *       ],
         *       "capability": [
         *         {
         *           "characteristic": "12",
         *           "place": null,
         *           "pieces": 60,
         *           "cpk": {
         *             "value": 1.6,
         *             "low": 1.3,
         *             "high": 1.9
         *           },
         *           "ppk": {
         *             "value": 1.5,
         *             "low": 1.2,
         *             "high": 1.8
         *           },
         *           "shipped_ppk": {
         *             "value": 1.5,
         *             "low": 1.2,
         *             "high": 1.8
         *           },
         *           "says": "Ppk 1.5 (95 %: 1.2 to 1.8), above 1.33, and steady; so few readings leave it open whether it really is."
         *         }
         *       ],
         *       "gauges": [
         *         {
         *           "gauge_id": "5",
         *           "name": "micrometer 0-25 no. 3",
         *           "kind": "micrometer",
         *           "unit": "mm",
         *           "expanded_uncertainty": "0.003",
         *           "coverage_factor": 2,
         *           "calibration_due": "2026-12-01",
         *           "reference": true,
         *           "readings": 1,
         *           "first_at": "2026-03-02T07:41:00.000Z",
         *           "last_at": "2026-03-02T07:41:00.000Z",
         *           "checked_at": null,
         *           "check_error": null
         *         }
         *       ],
         *       "registers": [
         *         {
         *           "label": "D7 wear",
         *           "number": 7,
         *           "tool": "T7 10 mm finishing end mill",
         *           "unit": "mm",
         *           "at_start": "0.000",
         *           "entries": []
         *         }
         *       ],
         *       "edges": [],
         *       "interruptions": [],
         *       "holds": [],
         *       "on_hold": [],
         *       "decisions": [],
         *       "check_plan": [
         *         "A feature that was not due on a piece counts as good on it where the pieces measured before and after it are good and nothing between them failed."
         *       ],
         *       "readings": {
         *         "counted": 1,
         *         "voided": 0
         *       },
         *       "pieces": [
         *         {
         *           "piece": 1,
         *           "serials": [],
         *           "seat": null,
         *           "disposition": "accept",
         *           "on_hold": false,
         *           "why": "Every feature is measured good on it or lies between good pieces as the check plan wanted.",
         *           "results": [
         *             {
         *               "reading_id": "3-1",
         *               "of": 0,
         *               "characteristic": "12",
         *               "place": null,
         *               "cut": 1,
         *               "value": "6.04",
         *               "unit": "mm",
         *               "result": "6.04",
         *               "lower_limit": "5.950",
         *               "upper_limit": "6.050",
         *               "bonus": null,
         *               "verdict": "conforming",
         *               "disposition": "accept",
         *               "expanded_uncertainty": "0.003",
         *               "gauge": "micrometer 0-25 no. 3",
         *               "taken_by": "shift A",
         *               "measured_at": "2026-03-02T07:41:00.000Z",
         *               "received_at": "2026-03-02T07:41:02.000Z",
         *               "flags": [],
         *               "decides": true
         *             }
         *           ],
         *           "not_measured": []
         *         }
         *       ],
         *       "outcome": {
         *         "pieces": 1,
         *         "by_disposition": [
         *           {
         *             "disposition": "accept",
         *             "pieces": 1,
         *             "ranges": [
         *               {
         *                 "from_piece": 1,
         *                 "to_piece": 1
         *               }
         *             ]
         *           }
         *         ],
         *         "results": 1,
         *         "nonconforming": 0,
         *         "uncertain": 0
         *       }
         *     }
         */
        Report: {
            /** @description The batch */
            batch: {
                /** @description The batch */
                batch_id: string;
                /** @description Its name */
                name: string;
                /** @description Operation */
                operation: string | null;
                /** @description Pieces ordered */
                quantity: number | null;
                /** @description Pieces known to be cut */
                pieces_cut: number;
                /** @description The machine */
                machine: string;
                /**
                 * Format: date-time
                 * @description When it was opened
                 */
                begun_at: string;
                /** @description When it was closed; null: it is open, and the report preliminary */
                closed_at: string | null;
                /** @description By whom */
                closed_by: string | null;
            };
            /** @description The part */
            part: {
                /** @description Drawing number */
                number: string;
                /** @description Its revision */
                revision: string;
                /** @description Name */
                name: string | null;
                /**
                 * @description Unit of the drawing
                 * @enum {string}
                 */
                unit: "mm" | "inch";
                /** @description Material */
                material: string | null;
                /** @description Decision rule of the part; characteristics may have their own */
                decision_rule: string;
            };
            /**
             * Format: date-time
             * @description When the report was made
             */
            made_at: string;
            /** @description How it was decided what conforms, in words */
            decision_rules: string[];
            /** @description What a reader has to know */
            cautions: string[];
            /** @description What the drawing asks for, in its order */
            characteristics: {
                /** @description The feature */
                feature_id: string;
                /** @description Its balloon number */
                characteristic: string;
                /** @description Its name */
                name: string | null;
                /** @description What it is */
                kind: string;
                /** @description Of a form, which one */
                geometric_characteristic: string | null;
                /** @description Nominal size; null: it has none */
                nominal: string | null;
                /** @description What the drawing asks for, in words */
                requirement: string;
                /** @description Lower limit that counted; null: none */
                lower_limit: string | null;
                /** @description Upper limit that counted; null: none */
                upper_limit: string | null;
                /** @description Unit of its limits and results; null: it has none */
                unit: string | null;
                /**
                 * @description How important the drawing says it is
                 * @enum {string}
                 */
                importance: "ordinary" | "key" | "critical";
                /** @description Rule by which it was decided what conforms; null: it passes or fails */
                decision_rule: string | null;
                /** @description Whose limits these are, where they are not the drawing's final ones */
                limits_of: string | null;
                /** @description Where on it is measured; null: one reading speaks for it */
                places: string[] | null;
            }[];
            /** @description What it was measured with */
            gauges: {
                /** @description The gauge */
                gauge_id: string;
                /** @description Its name */
                name: string;
                /** @description What it is */
                kind: string;
                /** @description Its unit */
                unit: string;
                /** @description Expanded uncertainty in its unit, as entered; null: not known */
                expanded_uncertainty: string | null;
                /** @description Coverage factor of it */
                coverage_factor: number;
                /** @description Day on which its calibration runs out; null: not given */
                calibration_due: string | null;
                /** @description True: its readings may prove a size */
                reference: boolean;
                /** @description Readings of this batch taken with it */
                readings: number;
                /**
                 * Format: date-time
                 * @description The first of them
                 */
                first_at: string;
                /**
                 * Format: date-time
                 * @description The last of them
                 */
                last_at: string;
                /** @description Last check on a standard up to then; null: none */
                checked_at: string | null;
                /** @description What it read too much on it, in its unit */
                check_error: string | null;
            }[];
            /** @description What the offsets held that move its features */
            registers: {
                /** @description Its label at the control */
                label: string;
                /** @description Its number */
                number: number;
                /** @description Its tool; null: a work offset */
                tool: string | null;
                /**
                 * @description Unit of its values
                 * @enum {string}
                 */
                unit: "mm" | "inch";
                /** @description What it held when the batch began */
                at_start: string;
                /** @description What was entered since, in cutting order */
                entries: {
                    /** @description It holds this from that piece on */
                    from_piece: number;
                    /** @description And from that cut of it on */
                    from_cut: number;
                    /** @description What it holds */
                    value: string;
                    /** @description How much more than before */
                    change: string;
                    /** @description Where it comes from */
                    origin: string;
                    /** @description Why */
                    reason: string | null;
                    /** @description Who entered it */
                    by: string | null;
                    /**
                     * Format: date-time
                     * @description When it was entered
                     */
                    at: string;
                }[];
            }[];
            /** @description Cutting edges that were changed */
            edges: {
                /** @description The tool */
                tool: string;
                /** @description Number of the edge */
                edge: number;
                /** @description First piece cut with it */
                from_piece: number;
                /** @description Why it was changed */
                reason: string;
                /** @description Who entered it */
                by: string | null;
            }[];
            /** @description What made people measure again */
            interruptions: {
                /** @description First piece cut after it */
                from_piece: number;
                /** @description What happened */
                kind: string;
                /** @description What exactly */
                note: string | null;
                /** @description Who entered it */
                by: string | null;
            }[];
            /** @description Pieces that were in doubt, and how that ended */
            holds: {
                /** @description Balloon number */
                characteristic: string;
                /** @description Where on the feature */
                place: string | null;
                /** @description Seat in the fixture */
                seat: string | null;
                /**
                 * @description How it stands
                 * @enum {string}
                 */
                state: "open" | "decided" | "released";
                /** @description First piece, in cutting order */
                from_piece: number;
                /** @description Last piece, itself included */
                to_piece: number;
                /** @description Why there is, or was, a hold */
                why: string;
                /** @description Pieces of it that readings have not released */
                open: {
                    /** @description First piece, in cutting order */
                    from_piece: number;
                    /** @description Last piece, itself included */
                    to_piece: number;
                }[];
            }[];
            /** @description Pieces that must not go out as things stand */
            on_hold: {
                /** @description First piece, in cutting order */
                from_piece: number;
                /** @description Last piece, itself included */
                to_piece: number;
            }[];
            /** @description What people decided about pieces, voided decisions among them */
            decisions: {
                /** @description The decision */
                decision_id: string;
                /** @description First piece, in cutting order */
                from_piece: number;
                /** @description Last piece, itself included */
                to_piece: number;
                /** @description What is to become of the pieces */
                decision: string;
                /** @description Who had the right to decide it */
                authority: string | null;
                /** @description Number of the nonconformance report */
                nonconformance: string | null;
                /** @description What exactly */
                note: string | null;
                /** @description Who entered it */
                by: string | null;
                /**
                 * Format: date-time
                 * @description When it was decided
                 */
                decided_at: string;
                /** @description Why it was voided; null: it stands */
                voided: string | null;
            }[];
            /** @description How it was decided what is measured on which piece */
            check_plan: string[];
            /** @description How many readings */
            readings: {
                /** @description Readings that stand */
                counted: number;
                /** @description Readings that were voided */
                voided: number;
            };
            /** @description Capability and performance of every size that was measured (ISO 22514-2) */
            capability: {
                /** @description Its balloon number */
                characteristic: string;
                /** @description Where it was measured; null: one reading speaks for it */
                place: string | null;
                /** @description Pieces that count */
                pieces: number;
                /** @description Capability from piece to piece, between corrections; null: none can be formed */
                cpk: {
                    /** @description As many decimals as the readings bear */
                    value: number;
                    /** @description Lower confidence limit, 95 % two-sided */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
                /** @description Performance of all first cuts together */
                ppk: {
                    /** @description As many decimals as the readings bear */
                    value: number;
                    /** @description Lower confidence limit, 95 % two-sided */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
                /** @description Performance of the pieces as they left the machine */
                shipped_ppk: {
                    /** @description As many decimals as the readings bear */
                    value: number;
                    /** @description Lower confidence limit, 95 % two-sided */
                    low: number;
                    /** @description Upper confidence limit */
                    high: number;
                } | null;
                /** @description The answer in plain words */
                says: string;
            }[];
            /** @description The pieces in cutting order */
            pieces: {
                /** @description The piece, numbered in cutting order */
                piece: number;
                /** @description Serial numbers that its readings give */
                serials: string[];
                /** @description Seat in the fixture */
                seat: string | null;
                /** @description What becomes of it */
                disposition: string;
                /** @description True: it must not go out as things stand */
                on_hold: boolean;
                /** @description The same in words */
                why: string;
                /** @description Its readings that stand, by characteristic and cut */
                results: {
                    /** @description The reading */
                    reading_id: string;
                    /** @description Number of its characteristic in `characteristics`, from 0 */
                    of: number;
                    /** @description Balloon number */
                    characteristic: string;
                    /** @description Where on the feature */
                    place: string | null;
                    /** @description Which cut of the piece */
                    cut: number;
                    /** @description As the gauge gave it, digit for digit; null: it gave no number */
                    value: string | null;
                    /** @description Unit of that */
                    unit: string | null;
                    /** @description What was held against the limits, not rounded: at 20 °C, less what is known of the gauge; or whether it passed */
                    result: string;
                    /** @description Lower limit that counted for it */
                    lower_limit: string | null;
                    /** @description Upper limit that counted for it, a bonus in it */
                    upper_limit: string | null;
                    /** @description How much of it is a bonus for the feature's size; null: nothing */
                    bonus: string | null;
                    /**
                     * @description By the decision rule
                     * @enum {string}
                     */
                    verdict: "conforming" | "nonconforming" | "uncertain";
                    /** @description What it made of the piece */
                    disposition: string;
                    /** @description Expanded uncertainty of the reading; null: not known */
                    expanded_uncertainty: string | null;
                    /** @description Gauge that took it */
                    gauge: string | null;
                    /** @description Who took it */
                    taken_by: string | null;
                    /** @description When; null: not given */
                    measured_at: string | null;
                    /**
                     * Format: date-time
                     * @description When it was entered
                     */
                    received_at: string;
                    /** @description What is unusual about it */
                    flags: string[];
                    /** @description True: of several readings of the same thing this one counts */
                    decides: boolean;
                }[];
                /** @description Every characteristic that has no result which proves it on this piece */
                not_measured: {
                    /** @description Balloon numbers, with the place where there are several */
                    characteristics: string[];
                    /** @description What proves them all the same, or that nothing does, as in `GET /v1/batches/…/pieces/…` */
                    proof: string;
                    /** @description The same in words */
                    why: string;
                }[];
            }[];
            /** @description What became of them */
            outcome: {
                /** @description How many pieces */
                pieces: number;
                /** @description What becomes of the pieces, most first */
                by_disposition: {
                    /** @description What becomes of them */
                    disposition: string;
                    /** @description How many */
                    pieces: number;
                    /** @description Which */
                    ranges: {
                        /** @description First piece, in cutting order */
                        from_piece: number;
                        /** @description Last piece, itself included */
                        to_piece: number;
                    }[];
                }[];
                /** @description Results that count */
                results: number;
                /** @description Of these nonconforming */
                nonconforming: number;
                /** @description Of these uncertain */
                uncertain: number;
            };
        };
        /** @description What a file says of a reading; nothing of it decides */
        SaidByFile: {
            /** @description The value as it was printed */
            value: string;
            /** @description Nominal size */
            nominal: string | null;
            /** @description Lower limit of size */
            lower_limit: string | null;
            /** @description Upper limit of size */
            upper_limit: string | null;
            /** @description Unit of these three; null: none of them is said */
            unit: ("mm" | "µm" | "nm" | "inch" | "µin" | "deg" | "arcmin" | "arcsec" | "rad") | null;
            /** @description Whether the value is inside these limits, a value on a limit being so; null: no limit is said */
            within: boolean | null;
            /** @description The file's own verdict; null: none, or one that the layout does not translate */
            result: ("pass" | "fail") | null;
            /** @description The same in its own words */
            result_text: string | null;
            /** @description When, as it was printed */
            measured_at: string | null;
            /** @description Tool */
            tool: string | null;
            /** @description Channel of the gauge's interface */
            channel: string | null;
            /** @description Its own number of the reading */
            record: string | null;
            /** @description Its remark */
            note: string | null;
            /** @description What was done to the text, and what of the above can't be read */
            notes: string[];
        };
        /**
         * @description Who is signed in
         * @example {
         *       "needs_key": true,
         *       "name": "setter, shift A",
         *       "role": "operator"
         *     }
         */
        Session: {
            /** @description False: the service asks for no key, and serves this computer only */
            needs_key: boolean;
            /** @description Whose key it is; null: nobody is signed in */
            name: string | null;
            /** @description What may be done with it; null: nobody is signed in */
            role: ("uploader" | "operator" | "engineer" | "admin") | null;
        };
        /**
         * @description Signs a browser in
         * @example {
         *       "key": "onsize_5b1f0c93aa_<43 characters>"
         *     }
         */
        SessionCreate: {
            /** @description The key to sign in with */
            key: string;
        };
        /**
         * @description A single sampling plan by attributes (MIL-STD-105E; in the main equal to ISO 2859-1)
         * @example {
         *       "code_letter": "H",
         *       "plan_letter": "H",
         *       "n": 50,
         *       "inspect_all": false,
         *       "ac": 1,
         *       "re": 2,
         *       "key_points": [
         *         {
         *           "accepted": 0.95,
         *           "percent": 0.7152
         *         }
         *       ],
         *       "why": "A lot of 500 at level II has code letter H; at AQL 1.0 and normal inspection: 50 pieces, accepted with 1 nonconforming or fewer, rejected with 2 or more."
         *     }
         */
        SinglePlan: {
            /** @description Sample size code letter of the lot */
            code_letter: string;
            /** @description Letter whose plan holds: another one where an arrow led there */
            plan_letter: string;
            /** @description Pieces to inspect; the whole lot where the sample would not be smaller */
            n: number;
            /** @description True: every piece is inspected */
            inspect_all: boolean;
            /** @description Acceptance number: with so many nonconforming or fewer the lot is accepted */
            ac: number;
            /** @description Rejection number: with so many or more it is rejected */
            re: number;
            /** @description What the plan accepts how often, in the long run; empty where every piece is inspected */
            key_points: {
                /** @description Probability with which a lot of this quality is accepted */
                accepted: number;
                /** @description Percent nonconforming (nonconformities per 100 pieces under `poisson`) */
                percent: number;
            }[];
            /** @description How it was found, in words */
            why: string;
        };
        /**
         * @description Which inspection is due after some lots (MIL-STD-105E, 4.7; ISO 2859-1:1999, 9.3)
         * @example {
         *       "lots": [
         *         {
         *           "lot": 1,
         *           "inspection": "normal",
         *           "result": "R",
         *           "score": 0
         *         },
         *         {
         *           "lot": 2,
         *           "inspection": "normal",
         *           "result": "R",
         *           "score": 0
         *         }
         *       ],
         *       "next": "tightened",
         *       "why": "2 of at most 5 lots in a row were rejected on normal inspection: tightened from the next lot on."
         *     }
         */
        Switching: {
            /** @description The lots in order */
            lots: {
                /** @description Number of the lot in the list */
                lot: number;
                /**
                 * @description Inspection that it falls under
                 * @enum {string}
                 */
                inspection: "normal" | "tightened" | "reduced" | "discontinued";
                /**
                 * @description Its result
                 * @enum {string}
                 */
                result: "A" | "T" | "B" | "R";
                /** @description Switching score after it */
                score: number;
            }[];
            /**
             * @description Inspection of the next lot; `discontinued`: none until the process has been improved
             * @enum {string}
             */
            next: "normal" | "tightened" | "reduced" | "discontinued";
            /** @description What brought it about, in words */
            why: string;
        };
        /**
         * @description A tool with its registers
         * @example {
         *       "tool_id": "12",
         *       "machine_id": "3",
         *       "number": 7,
         *       "name": "10 mm finishing end mill",
         *       "kind": "end_mill",
         *       "unit": "mm",
         *       "nominal_diameter": 10,
         *       "life_pieces": 400,
         *       "registers": [
         *         {
         *           "register_id": "21",
         *           "number": 7,
         *           "label": "D7 wear",
         *           "controls": "radial",
         *           "holds": "radius",
         *           "sign": "normal",
         *           "start_value": 0,
         *           "largest_total": 0.15
         *         }
         *       ],
         *       "created_at": "2026-03-02T06:15:00.000Z"
         *     }
         */
        Tool: {
            /** @description Identity of the tool */
            tool_id: string;
            /** @description The machine it sits in */
            machine_id: string;
            /** @description Its tool number */
            number: number;
            /** @description What it is, in the shop's words */
            name: string;
            /** @description Sort of tool */
            kind: string;
            /**
             * @description The machine's unit, in which all sizes here are
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description Its diameter */
            nominal_diameter: number | null;
            /** @description How many pieces an edge is meant to cut */
            life_pieces: number | null;
            /** @description Its wear-offset registers */
            registers: components["schemas"]["Register"][];
            /**
             * Format: date-time
             * @description When it was set up
             */
            created_at: string;
        };
        /** @description What the document says of a tool; decimals as printed */
        ToolAssetSaid: {
            /** @description Its identity at the machine */
            asset_id: string;
            /** @description The tool's identity there; not ours */
            tool_id: string | null;
            /** @description Serial number */
            serial: string | null;
            /** @description Number by which programs call it */
            program_number: number | null;
            /** @description Description */
            description: string | null;
            /** @description When it was published, as the document has it */
            timestamp: string | null;
            /** @description It is no longer at the machine */
            removed: boolean;
            /** @description Its states: NEW, USED, BROKEN ... */
            statuses: string[];
            /** @description Where it is kept */
            location: string | null;
            /** @description Its life */
            lives: {
                /**
                 * @description What is counted: minutes, parts, or wear in mm
                 * @enum {string}
                 */
                type: "MINUTES" | "PART_COUNT" | "WEAR";
                /**
                 * @description Up to its limit, or down from its beginning
                 * @enum {string}
                 */
                counts: "up" | "down";
                /** @description What the machine counts now; null: unavailable */
                value: string | null;
                /** @description What a fresh edge begins with */
                initial: string | null;
                /** @description What it may come to */
                limit: string | null;
                /** @description From here on it should be changed soon */
                warning: string | null;
            }[];
            /** @description Its sizes */
            measurements: {
                /** @description What is measured, as the standard names it */
                name: string;
                /** @description Its code by ISO 13399 */
                code: string | null;
                /** @description As measured; null: unavailable */
                value: string | null;
                /** @description Nominal */
                nominal: string | null;
                /** @description Lower limit */
                minimum: string | null;
                /** @description Upper limit */
                maximum: string | null;
                /** @description Unit; null: the document does not say */
                unit: ("mm" | "inch" | "deg") | null;
                /** @description Whether the value is inside the limits, on one of them being so; null: nothing to tell it by */
                within: boolean | null;
            }[];
            /** @description How many cutting edges or inserts it is said to have */
            edge_count: number | null;
            /** @description Its cutting edges or inserts */
            edges: {
                /** @description Which of them */
                indices: string;
                /** @description Kind of insert */
                item_id: string | null;
                /** @description Grade */
                grade: string | null;
                /** @description Where on the tool */
                locus: string | null;
                /** @description Its states */
                statuses: string[];
                /** @description Its life */
                lives: {
                    /**
                     * @description What is counted: minutes, parts, or wear in mm
                     * @enum {string}
                     */
                    type: "MINUTES" | "PART_COUNT" | "WEAR";
                    /**
                     * @description Up to its limit, or down from its beginning
                     * @enum {string}
                     */
                    counts: "up" | "down";
                    /** @description What the machine counts now; null: unavailable */
                    value: string | null;
                    /** @description What a fresh edge begins with */
                    initial: string | null;
                    /** @description What it may come to */
                    limit: string | null;
                    /** @description From here on it should be changed soon */
                    warning: string | null;
                }[];
                /** @description Its sizes */
                measurements: {
                    /** @description What is measured, as the standard names it */
                    name: string;
                    /** @description Its code by ISO 13399 */
                    code: string | null;
                    /** @description As measured; null: unavailable */
                    value: string | null;
                    /** @description Nominal */
                    nominal: string | null;
                    /** @description Lower limit */
                    minimum: string | null;
                    /** @description Upper limit */
                    maximum: string | null;
                    /** @description Unit; null: the document does not say */
                    unit: ("mm" | "inch" | "deg") | null;
                    /** @description Whether the value is inside the limits, on one of them being so; null: nothing to tell it by */
                    within: boolean | null;
                }[];
            }[];
        };
        /**
         * @description A tool to be set up, with its registers; its first edge begins with it
         * @example {
         *       "machine_id": "3",
         *       "number": 7,
         *       "name": "10 mm finishing end mill",
         *       "kind": "end_mill",
         *       "nominal_diameter": 10,
         *       "life_pieces": 400,
         *       "registers": [
         *         {
         *           "number": 7,
         *           "label": "D7 wear",
         *           "controls": "radial",
         *           "holds": "radius",
         *           "sign": "normal",
         *           "value": 0,
         *           "largest_total": 0.15
         *         },
         *         {
         *           "number": 57,
         *           "label": "H57 wear",
         *           "controls": "axial",
         *           "value": 0
         *         }
         *       ]
         *     }
         */
        ToolCreate: {
            /** @description The machine it sits in */
            machine_id: string;
            /** @description Its tool number; each only once on a machine */
            number: number;
            /** @description What it is, in the shop's words */
            name: string;
            /** @description Sort of tool, such as end_mill, drill, reamer, tap, turning, boring */
            kind: string;
            /** @description Its diameter, in the machine's unit */
            nominal_diameter?: (number | string) | null;
            /** @description How many pieces an edge is meant to cut */
            life_pieces?: number | null;
            /**
             * @description Its wear-offset registers; none for a sized tool whose size no register moves
             * @default []
             */
            registers?: components["schemas"]["RegisterCreate"][];
        };
        /** @description One page of a list */
        ToolList: {
            /** @description This page, oldest first */
            items: components["schemas"]["Tool"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description What a machine's document would create or change, until a person decides
         * @example {
         *       "proposal_id": "4",
         *       "machine_id": "3",
         *       "status": "open",
         *       "document": "MTConnectStreams 2.0",
         *       "source": "mill-2",
         *       "unit": null,
         *       "others": 12,
         *       "items": [
         *         {
         *           "item": 1,
         *           "about": "register",
         *           "line": 4,
         *           "tool_id": "12",
         *           "tool_number": 7,
         *           "tool_name": "10 mm finishing end mill",
         *           "matched_by": "tool_in_use",
         *           "register_id": "21",
         *           "register_label": "D7 wear",
         *           "says": "The control reads -0.012 mm in D7 wear, the ledger says -0.010 mm.",
         *           "changes": [
         *             {
         *               "field": "value_found",
         *               "from": -0.01,
         *               "to": -0.012,
         *               "unit": "mm",
         *               "why": "ToolOffset RADIAL with tool 7 in use, 2026-03-11T05:59:58Z"
         *             }
         *           ],
         *           "cautions": [],
         *           "asset": null
         *         }
         *       ],
         *       "done": [],
         *       "next": [],
         *       "by": null,
         *       "reason": null,
         *       "created_at": "2026-03-11T06:00:00.000Z",
         *       "decided_at": null
         *     }
         */
        ToolProposal: {
            /** @description Identity of the proposal */
            proposal_id: string;
            /** @description The machine whose document it is */
            machine_id: string;
            /**
             * @description Whether a person has decided
             * @enum {string}
             */
            status: "open" | "accepted" | "declined";
            /** @description Kind of document and its version */
            document: string;
            /** @description Where it came from, as its sender calls it */
            source: string | null;
            /** @description Unit that its sender declared for sizes without one */
            unit: ("mm" | "inch") | null;
            /** @description Elements or lines of other kinds in it, passed over */
            others: number;
            /** @description The tools and registers in it, in their order */
            items: components["schemas"]["ToolProposalItem"][];
            /** @description What was created or changed when it was accepted */
            done: {
                /** @description The item */
                item: number;
                /**
                 * @description `tool`: set up a tool that is not known here; `nominal_diameter` and `life_pieces` of the tool; `edge`: a fresh edge is in it; `value_found`: the register holds another value than the ledger says
                 * @enum {string}
                 */
                field: "tool" | "nominal_diameter" | "life_pieces" | "edge" | "value_found";
                /** @description The tool that was set up or changed */
                tool_id: string | null;
                /** @description The edge that was entered */
                edge_id: string | null;
                /** @description The register entry that was made */
                entry_id: string | null;
            }[];
            /** @description What to do next in the batches that it changed */
            next: {
                /** @description The batch */
                batch_id: string;
                /** @description What to do in it */
                next: components["schemas"]["NextStep"];
            }[];
            /** @description Who decided */
            by: string | null;
            /** @description Why it was declined */
            reason: string | null;
            /**
             * Format: date-time
             * @description When it came
             */
            created_at: string;
            /** @description When it was decided */
            decided_at: string | null;
        };
        /**
         * @description A person's yes to changes of a proposal
         * @example {
         *       "choices": [
         *         {
         *           "item": 1,
         *           "fields": [
         *             "value_found"
         *           ],
         *           "value_found": {
         *             "batch_id": "3",
         *             "from_piece": 14,
         *             "from_cut": 1
         *           }
         *         }
         *       ],
         *       "by": "shift A"
         *     }
         */
        ToolProposalAccept: {
            /** @description What is accepted; all else is let go */
            choices: {
                /** @description The item */
                item: number;
                /** @description Which of its changes to make. `tool`: set up a tool that is not known here; `nominal_diameter` and `life_pieces` of the tool; `edge`: a fresh edge is in it; `value_found`: the register holds another value than the ledger says */
                fields: ("tool" | "nominal_diameter" | "life_pieces" | "edge" | "value_found")[];
                /** @description With `tool`: what the document does not say of it */
                tool?: {
                    /** @description Tool number; absent: the one proposed */
                    number?: number;
                    /** @description What it is, in the shop's words; absent: the one proposed */
                    name?: string;
                    /** @description Sort of tool, such as end_mill, drill, turning */
                    kind: string;
                    /**
                     * @description Its wear-offset registers, which no such document tells; none for a sized tool
                     * @default []
                     */
                    registers?: components["schemas"]["RegisterCreate"][];
                };
                /** @description With `edge`: where it counts, and what the registers hold with it */
                edge?: {
                    /** @description The batch that is being cut */
                    batch_id: string;
                    /** @description The first piece cut with it; absent: the next one */
                    from_piece?: number;
                    /**
                     * @description Why the edge was changed
                     * @enum {string}
                     */
                    reason: "worn" | "broken" | "chipped" | "indexed" | "new_insert" | "other";
                    /** @description Every register of the tool, with what the control holds in it now */
                    registers: {
                        /** @description A register of the tool */
                        register_id: string;
                        /** @description What it holds now */
                        value: number | string;
                    }[];
                };
                /** @description With `value_found`: from where on the register has held it */
                value_found?: {
                    /** @description The batch that is being cut */
                    batch_id: string;
                    /** @description The first piece cut with it; absent: the next one */
                    from_piece?: number;
                    /**
                     * @description 2 and more: from this cut of that piece on; 1 if absent
                     * @default 1
                     */
                    from_cut?: number;
                    /**
                     * @description The control really shows it, though it is further from the old value than the machine allows
                     * @constant
                     */
                    confirmed?: true;
                };
            }[];
            /** @description Who accepts it */
            by: string;
        };
        /** @description One thing that would be created or changed */
        ToolProposalChange: {
            /**
             * @description `tool`: set up a tool that is not known here; `nominal_diameter` and `life_pieces` of the tool; `edge`: a fresh edge is in it; `value_found`: the register holds another value than the ledger says
             * @enum {string}
             */
            field: "tool" | "nominal_diameter" | "life_pieces" | "edge" | "value_found";
            /** @description As it stands here; null: not at all */
            from: number | string | null;
            /** @description As it would be */
            to: number | string;
            /** @description The machine's unit, of a size; null: it is none */
            unit: ("mm" | "inch") | null;
            /** @description Where that comes from */
            why: string;
        };
        /**
         * @description A person's no to a proposal
         * @example {
         *       "reason": "an old export",
         *       "by": "shift A"
         *     }
         */
        ToolProposalDecline: {
            /** @description Why nothing of it is taken */
            reason: string;
            /** @description Who declines it */
            by: string;
        };
        /**
         * @description A tool or a register of a machine's document, beside ours
         * @example {
         *       "item": 1,
         *       "about": "register",
         *       "line": 4,
         *       "tool_id": "12",
         *       "tool_number": 7,
         *       "tool_name": "10 mm finishing end mill",
         *       "matched_by": "tool_in_use",
         *       "register_id": "21",
         *       "register_label": "D7 wear",
         *       "says": "The control reads -0.012 mm in D7 wear, the ledger says -0.010 mm.",
         *       "changes": [
         *         {
         *           "field": "value_found",
         *           "from": -0.01,
         *           "to": -0.012,
         *           "unit": "mm",
         *           "why": "ToolOffset RADIAL with tool 7 in use, 2026-03-11T05:59:58Z"
         *         }
         *       ],
         *       "cautions": [],
         *       "asset": null
         *     }
         */
        ToolProposalItem: {
            /** @description Its number in the proposal, from 1 */
            item: number;
            /**
             * @description What it is about
             * @enum {string}
             */
            about: "tool" | "register";
            /** @description Line of the document */
            line: number;
            /** @description Our tool; null: none is known */
            tool_id: string | null;
            /** @description Its number; null: nothing says one */
            tool_number: number | null;
            /** @description Its name here, or the one proposed */
            tool_name: string | null;
            /** @description How the tool or register was found: an asset accepted before, the number that programs call it by, a number for the document's tool id, the tool in use when it was reported, the number of the offset; null: not at all */
            matched_by: ("asset" | "program_number" | "tool_id" | "tool_in_use" | "offset_number") | null;
            /** @description The register; null: it is about a tool, or no register fits */
            register_id: string | null;
            /** @description Its label */
            register_label: string | null;
            /** @description What the document says, in a sentence */
            says: string;
            /** @description What would be created or changed; empty: nothing */
            changes: components["schemas"]["ToolProposalChange"][];
            /** @description What to look at first */
            cautions: string[];
            /** @description All that it says of the tool; null: it is about a register */
            asset: components["schemas"]["ToolAssetSaid"] | null;
        };
        /** @description One page of a list */
        ToolProposalList: {
            /** @description This page, newest first */
            items: components["schemas"]["ToolProposal"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /** @description A reading as a layout understands it */
        UnderstoodReading: {
            /** @description Characteristic, translated */
            characteristic: string | null;
            /** @description Part number */
            part_number: string | null;
            /** @description Revision */
            revision: string | null;
            /** @description Batch */
            batch: string | null;
            /** @description Piece; null: worked out from the batch, or counted */
            piece: number | null;
            /** @description Serial number of the piece */
            serial: string | null;
            /** @description Cut */
            cut: number | null;
            /** @description Seat */
            seat: string | null;
            /** @description Place on the feature */
            place: string | null;
            /** @description The value; null: it says something else */
            value: string | null;
            /** @description Its unit, or that of the offsets */
            unit: ("mm" | "µm" | "nm" | "inch" | "µin" | "deg" | "arcmin" | "arcsec" | "rad") | null;
            /** @description Of a position: offset from the true position along x */
            dx: string | null;
            /** @description Along y */
            dy: string | null;
            /** @description Along z */
            dz: string | null;
            /** @description Size of the feature that earns the position a bonus */
            size: string | null;
            /** @description Of what passes or fails */
            result: ("pass" | "fail" | "go_refuses" | "no_go_enters") | null;
            /** @description Of what is counted */
            count: number | null;
            /** @description Gauge */
            gauge: string | null;
            /** @description When, in UTC */
            measured_at: string | null;
            /** @description Who took it */
            taken_by: string | null;
            /** @description How warm the part was, °C */
            temperature_c: string | null;
            /** @description How warm the gauge was, °C */
            gauge_temperature_c: string | null;
            /** @description Offsets in force */
            cut_with: {
                /** @description Register at the control */
                register_number: number;
                /** @description What it held */
                value: string;
            }[];
        };
        /**
         * @description Pieces of a batch that were cut while a register held a value
         * @example {
         *       "batch_id": "3",
         *       "batch": "B-118",
         *       "part_number": "HB-2041",
         *       "revision": "B",
         *       "value": -0.02,
         *       "unit": "mm",
         *       "from_piece": 13,
         *       "from_cut": 1,
         *       "to_piece": 41,
         *       "to_cut": null,
         *       "entry_id": "71",
         *       "correction_id": "3-1",
         *       "by": "shift A",
         *       "entered_at": "2026-03-02T07:45:00.000Z"
         *     }
         */
        ValuePieces: {
            /** @description The batch */
            batch_id: string;
            /** @description Its name */
            batch: string;
            /** @description Drawing number of its part */
            part_number: string;
            /** @description Revision of the drawing */
            revision: string;
            /** @description What the register held */
            value: number;
            /**
             * @description The machine's unit
             * @enum {string}
             */
            unit: "mm" | "inch";
            /** @description First piece cut with it */
            from_piece: number;
            /** @description and from this cut of that piece on */
            from_cut: number;
            /** @description Last piece cut with it, as far as is known */
            to_piece: number;
            /** @description up to this cut of that piece; null: all of it */
            to_cut: number | null;
            /** @description The entry; null: the batch was opened with it */
            entry_id: string | null;
            /** @description The correction that set it; null: none did */
            correction_id: string | null;
            /** @description Who entered it */
            by: string | null;
            /** @description When */
            entered_at: string | null;
        };
        /** @description One page of a list */
        ValuePiecesList: {
            /** @description This page, by batch, in cutting order */
            items: components["schemas"]["ValuePieces"][];
            /** @description Send it as `cursor` for the next page; null on the last page */
            next_cursor: string | null;
        };
        /**
         * @description Takes something that was entered out of all that is decided; it is kept, and counts no more
         * @example {
         *       "reason": "keyed for another batch",
         *       "by": "shift A"
         *     }
         */
        Void: {
            /** @description Why it does not count */
            reason: string;
            /** @description Who says so */
            by?: string | null;
        };
        /**
         * @description How far a tool has worn, and what its registers hold
         * @example {
         *       "tool_id": "2",
         *       "batch_id": "3",
         *       "edge": {
         *         "edge_id": "7",
         *         "number": 2,
         *         "reason": "worn",
         *         "pieces_cut": 41
         *       },
         *       "registers": [
         *         {
         *           "register_id": "4",
         *           "number": 7,
         *           "label": "D7 wear",
         *           "unit": "mm",
         *           "value_now": -0.02,
         *           "cumulative_change": -0.02,
         *           "wear_rate_per_piece": -0.0002,
         *           "pieces_to_limit": 31,
         *           "proposed_start": -0.012,
         *           "safe_start": 0.05,
         *           "entries": [
         *             {
         *               "at": "2026-03-02T07:45:00.000Z",
         *               "batch_id": "3",
         *               "from_piece": 13,
         *               "from_cut": 1,
         *               "change": -0.02,
         *               "value": -0.02,
         *               "reason": null,
         *               "correction_id": "3-1",
         *               "by": "shift A"
         *             }
         *           ]
         *         }
         *       ]
         *     }
         */
        Wear: {
            /** @description The tool */
            tool_id: string;
            /** @description The batch that the figures are of; null: the tool has not worked yet */
            batch_id: string | null;
            /** @description The cutting edge in use */
            edge: {
                /** @description Identity of the edge */
                edge_id: string;
                /** @description Its number, counted from 1 */
                number: number;
                /** @description Why it came in; `start`: the first one */
                reason: string;
                /** @description Pieces it has cut, in all batches */
                pieces_cut: number;
            };
            /** @description Its registers */
            registers: {
                /** @description The register */
                register_id: string;
                /** @description Its number at the control */
                number: number;
                /** @description Its label at the control */
                label: string;
                /**
                 * @description Unit of its values
                 * @enum {string}
                 */
                unit: "mm" | "inch";
                /** @description What it is believed to hold */
                value_now: number;
                /** @description Value now less the value when the edge began */
                cumulative_change: number;
                /** @description What wear asks of the register per piece, sign as it would be keyed; null: nothing measured yet */
                wear_rate_per_piece: number | null;
                /** @description Pieces until a feature leaves its limits without another correction; null: not as far as known */
                pieces_to_limit: number | null;
                /** @description Value for a fresh edge, aiming at the target; null: no feature is named */
                proposed_start: number | null;
                /** @description Value for a fresh edge that leaves metal on, for who measures and cuts again */
                safe_start: number | null;
                /** @description The latest 100 entries, newest first */
                entries: {
                    /**
                     * Format: date-time
                     * @description When it was entered
                     */
                    at: string;
                    /** @description In which batch */
                    batch_id: string;
                    /** @description It counts from this piece */
                    from_piece: number;
                    /** @description and this cut of it on */
                    from_cut: number;
                    /** @description Change against the value before */
                    change: number;
                    /** @description What the register held then */
                    value: number;
                    /** @description Why */
                    reason: string | null;
                    /** @description The correction applied; null: entered by itself */
                    correction_id: string | null;
                    /** @description Who */
                    by: string | null;
                }[];
            }[];
        };
        /**
         * @description A work offset, one axis of it, to be set up as a register of the machine: it wears not and has no edge, and its value is known
         * @example {
         *       "number": 54,
         *       "label": "G54 X",
         *       "controls": "work_x",
         *       "seat": "B",
         *       "value": 0
         *     }
         */
        WorkOffsetCreate: {
            /** @description The control's own number of it, such as 54 */
            number: number;
            /** @description What the control or the shop calls it; no other register of the machine may have this label */
            label: string;
            /**
             * @description The axis along which it shifts the work: `work_x`, `work_y` or `work_z`. Which way that moves a size only the feature's `cut_by` can say
             * @enum {string}
             */
            controls: "work_x" | "work_y" | "work_z";
            /** @description The seat of the fixture whose pieces it moves, by the name that batches give it; absent: every piece */
            seat?: string | null;
            /**
             * @description What the control holds in it now; 0 if absent
             * @default 0
             */
            value?: number | string;
            /** @description The most that all corrections may add up to */
            largest_total?: (number | string) | null;
        };
        /**
         * @description A sampling plan that accepts nothing nonconforming, exact for the lot (hypergeometric)
         * @example {
         *       "n": 186,
         *       "ac": 0,
         *       "ltpd_nonconforming": 5,
         *       "ltpd_accepted": 0.099,
         *       "aql_nonconforming": null,
         *       "aql_accepted": null,
         *       "largest_n": null,
         *       "why": "A lot of 500 with 5 bad pieces is accepted with probability 0.099 when 186 are inspected."
         *     }
         */
        ZeroAcceptancePlan: {
            /** @description Smallest sample that guards against the LTPD, accepted only without a bad piece */
            n: number;
            /**
             * @description Nothing nonconforming is accepted
             * @constant
             */
            ac: 0;
            /** @description Bad pieces in a lot at the LTPD, rounded up */
            ltpd_nonconforming: number;
            /** @description How often such a lot is accepted, exactly */
            ltpd_accepted: number;
            /** @description Bad pieces in a lot at the AQL, rounded down; null: not asked */
            aql_nonconforming: number | null;
            /** @description How often such a lot is accepted */
            aql_accepted: number | null;
            /** @description Largest sample that keeps the producer's risk; below `n` no plan without acceptance number does both */
            largest_n: number | null;
            /** @description The same in words */
            why: string;
        };
    };
    responses: never;
    parameters: never;
    requestBodies: never;
    headers: never;
    pathItems: never;
}
export type $defs = Record<string, never>;
export interface operations {
    getHealth: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description It runs */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Health"];
                };
            };
            /** @description It does not */
            500: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getReadiness: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description It can work */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Health"];
                };
            };
            /** @description It cannot write to its database, or is stopping */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listMachines: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Machines, oldest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["MachineList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createMachine: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["MachineCreate"];
            };
        };
        responses: {
            /** @description The machine as it is kept */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Machine"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The name is taken, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Its steps contradict each other, or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getMachine: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the machine */
                machine_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The machine */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Machine"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such machine */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listMachineRegisters: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description Identity of the machine */
                machine_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Registers in the order they were set up */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["MachineRegisterList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such machine */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createWorkOffset: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the machine */
                machine_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["WorkOffsetCreate"];
            };
        };
        responses: {
            /** @description The register as it is kept */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["MachineRegister"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such machine */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The number or the label is taken, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listTools: {
        parameters: {
            query?: {
                /** @description Only the tools of this machine */
                machine_id?: string;
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Tools, oldest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ToolList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createTool: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ToolCreate"];
            };
        };
        responses: {
            /** @description The tool as it is kept */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Tool"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The tool number, a register number or a label is taken, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such machine, or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getTool: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the tool */
                tool_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The tool */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Tool"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such tool */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listToolProposals: {
        parameters: {
            query?: {
                /** @description Only those of this machine */
                machine_id?: string;
                /** @description Only those that stand so */
                status?: "open" | "accepted" | "declined";
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Proposals, newest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ToolProposalList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getToolProposal: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The proposal */
                proposal_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The proposal */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ToolProposal"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such proposal */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    acceptToolProposal: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description The proposal */
                proposal_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ToolProposalAccept"];
            };
        };
        responses: {
            /** @description The proposal as it is kept, with what was made */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ToolProposal"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such proposal */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is decided already, something has changed since it was made, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A choice is not among what is proposed or lacks something, or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    declineToolProposal: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description The proposal */
                proposal_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ToolProposalDecline"];
            };
        };
        responses: {
            /** @description The proposal as it is kept */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ToolProposal"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such proposal */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is decided already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createToolProposal: {
        parameters: {
            query?: {
                /** @description Unit of sizes that bear none; absent: millimetres, as the standard means them */
                unit?: "mm" | "inch";
                /** @description Where it came from, for people */
                source?: string;
            };
            header?: never;
            path: {
                /** @description The machine */
                machine_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The same document is waiting already: its proposal, as things stand now */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ToolProposal"];
                };
            };
            /** @description The proposal */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ToolProposal"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such machine */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is encoded, as by gzip */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The document can't be read, with line and column, or says nothing of tools and offsets */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listGauges: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Gauges, oldest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugeList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createGauge: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["GaugeCreate"];
            };
        };
        responses: {
            /** @description The gauge as it is kept */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Gauge"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The name is taken, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A machine_probe as a reference, or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getGauge: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The gauge */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Gauge"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such gauge */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    updateGauge: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["GaugeChange"];
            };
        };
        responses: {
            /** @description The gauge as it is kept now */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Gauge"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such gauge */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A machine_probe as a reference */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listGaugeChecks: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Checks */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugeCheckList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such gauge */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createGaugeCheck: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["GaugeCheckCreate"];
            };
        };
        responses: {
            /** @description The check as it is kept, and what it leaves in doubt */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugeCheckAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such gauge */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The gauge has a check at that instant, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A check that lies ahead or is beyond every size, or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getGaugeCheck: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
                /** @description Identity of the check */
                gauge_check_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The check */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugeCheckAnswer"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such check */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listDoubtedReadings: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
                /** @description Identity of the check */
                gauge_check_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Readings in doubt */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DoubtedReadingList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such check */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    voidGaugeCheck: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
                /** @description Identity of the check */
                gauge_check_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Void"];
            };
        };
        responses: {
            /** @description The voided check */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugeCheckAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such check */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is voided already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listGaugeStudies: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Studies */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugeStudyList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such gauge */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createGaugeStudy: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["GaugeStudyCreate"];
            };
        };
        responses: {
            /** @description The study and what it came to */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugeStudy"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such gauge */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Readings are missing or do not suit the gauge, or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getGaugeStudy: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
                /** @description Identity of the study */
                gauge_study_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The study */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugeStudy"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such study */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    acceptGaugeStudy: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
                /** @description Identity of the study */
                gauge_study_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["GaugeStudyAccept"];
            };
        };
        responses: {
            /** @description The accepted study */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugeStudy"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such study */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is voided or accepted already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    voidGaugeStudy: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the gauge */
                gauge_id: string;
                /** @description Identity of the study */
                gauge_study_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Void"];
            };
        };
        responses: {
            /** @description The voided study */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugeStudy"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such study */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is voided already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    compareGauges: {
        parameters: {
            query: {
                /** @description The gauge that it is compared with, such as one in the measuring room */
                with: string;
                /** @description Only readings of this feature; absent: of all sizes */
                feature_id?: string;
                /** @description Only readings of `gauge_id` from then on */
                from?: string;
                /** @description Only readings of `gauge_id` before then */
                to?: string;
            };
            header?: never;
            path: {
                /** @description The gauge that is compared */
                gauge_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The comparison */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugeComparison"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such gauge */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The two are one, or one measures angles and the other lengths */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listMaterials: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Materials, metals first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["MaterialList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listGaugesOfFeature: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
                /** @description Rate for the limits that the feature has in this operation; absent, or without limits of its own there: the one that the feature is made in */
                operation?: string;
            };
            header?: never;
            path: {
                /** @description The feature */
                feature_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Gauges with their ratings, the finest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["RatedGaugeList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such feature */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listParts: {
        parameters: {
            query?: {
                /** @description Only the revisions of this drawing number */
                number?: string;
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Parts, oldest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PartList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createPart: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PartCreate"];
            };
        };
        responses: {
            /** @description The part as it is kept */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Part"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description This revision of the number exists, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Limits that cross, a target on or outside them, a fit or general tolerance that the standard does not give for the size, a fit for the other side or kind, a nominal whose places the title block lacks, a register, tool or gauge that does not exist, an effect that does not follow from the set-up, a reference gauge that may not prove a size; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    tryPart: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PartCreate"];
            };
        };
        responses: {
            /** @description What the part would be */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PartTrial"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description What POST /v1/parts would refuse */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getPart: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the part */
                part_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The part */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Part"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such part */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    updatePart: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the part */
                part_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PartChange"];
            };
        };
        responses: {
            /** @description The part as it is kept now */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Part"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such part */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getFeature: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the feature */
                feature_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The feature */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Feature"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such feature */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    updateFeature: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the feature */
                feature_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["FeatureChange"];
            };
        };
        responses: {
            /** @description The feature as it is kept now */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Feature"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such feature */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A target on or outside the limits, a register, tool or gauge that does not exist, an effect that does not follow from the set-up, or a reference gauge that may not prove a size */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listPartProposals: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
                /** @description Only those that stand so */
                status?: "open" | "accepted" | "declined";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Proposals, newest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PartProposalList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createPartProposal: {
        parameters: {
            query?: {
                /** @description Unit of lengths where the document says none; what it says counts more */
                unit?: "mm" | "inch";
                /** @description Unit of angles where the document says none */
                angle_unit?: "deg" | "arcmin" | "arcsec" | "rad";
                /** @description How a file of another format is read: any log layout, whose readings say what each should be; absent: the body is a QIF document */
                layout_id?: string;
                /** @description Or the layout's name */
                layout?: string;
                /** @description What people know the document by */
                source?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The same document is waiting already: its proposal */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PartProposal"];
                };
            };
            /** @description The proposal */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PartProposal"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is encoded, as by gzip */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The document can't be read, with line and column; it says no unit; it has no characteristics; or there is no such layout */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getPartProposal: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The proposal */
                proposal_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The proposal */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PartProposal"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such proposal */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    acceptPartProposal: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description The proposal */
                proposal_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PartProposalAccept"];
            };
        };
        responses: {
            /** @description The part, and the proposal as it is kept */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PartAccepted"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such proposal */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is decided already, this revision of the number exists, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Something is still open, or the part can't be so; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    declinePartProposal: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description The proposal */
                proposal_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PartProposalDecline"];
            };
        };
        responses: {
            /** @description The proposal as it is kept */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PartProposal"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such proposal */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is decided already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listBatches: {
        parameters: {
            query?: {
                /** @description Only the batches of this machine */
                machine_id?: string;
                /** @description Only the batches of this part */
                part_id?: string;
                /** @description true: only open batches; false: only closed ones */
                open?: boolean;
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Batches, oldest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["BatchList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createBatch: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["BatchCreate"];
            };
        };
        responses: {
            /** @description The batch as it is kept */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Batch"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The name is taken, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such part or machine, or the part has no feature in this operation; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getBatch: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The batch */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Batch"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    closeBatch: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["BatchClose"];
            };
        };
        responses: {
            /** @description The batch as it is kept now */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Batch"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is closed already or has pieces on hold, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    countPieces: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CountCreate"];
            };
        };
        responses: {
            /** @description How far it has come, and what to do next */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Count"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A later piece is known to be cut, the batch is closed, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The batch has fewer pieces, or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listInterruptions: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description Identity of the batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Interruptions in the order they were entered */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["InterruptionList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createInterruption: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["InterruptionCreate"];
            };
        };
        responses: {
            /** @description The interruption as it is kept, and what to do next */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["InterruptionAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The batch is closed, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The batch has fewer pieces, or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    voidInterruption: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the batch */
                batch_id: string;
                /** @description Identity of the interruption */
                interruption_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Void"];
            };
        };
        responses: {
            /** @description The interruption as it is kept now, and what to do next */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["InterruptionAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such interruption */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is voided already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listRegisterEntries: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description Identity of the register */
                register_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Entries in the order they were made */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["RegisterEntryList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such register */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createRegisterEntry: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the register */
                register_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["RegisterEntryCreate"];
            };
        };
        responses: {
            /** @description The entry, the sizes expected with it and what to do next */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["RegisterEntryAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such register */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The batch is closed, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The batch does not run on the register's machine, the piece is beyond it, or the change is larger than the machine allows; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    voidRegisterEntry: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the register */
                register_id: string;
                /** @description Identity of the entry */
                entry_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Void"];
            };
        };
        responses: {
            /** @description The entry as it is kept now, and what to do next */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["RegisterEntryVoided"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such register, or no such entry of it */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is voided already, came with an edge or a correction, or follows an entry of another batch; or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listEdges: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description The tool */
                tool_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Edges, oldest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["EdgeList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such tool */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createEdge: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description The tool */
                tool_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["EdgeCreate"];
            };
        };
        responses: {
            /** @description The edge as it is kept, and what to do next */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["EdgeAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such tool */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The batch is closed, a later edge is entered already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A register of the tool is missing or one of another tool is named, the batch does not run on the tool's machine, or the piece is beyond it; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getEdgeLife: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The tool */
                tool_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description How long its edges last */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["EdgeLife"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such tool */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    voidEdge: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description The tool */
                tool_id: string;
                /** @description Identity of the edge */
                edge_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Void"];
            };
        };
        responses: {
            /** @description The edge as it is kept now, and what to do next */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["EdgeVoided"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such tool, or no such edge of it */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is voided already, is the first or not the latest, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listReadings: {
        parameters: {
            query?: {
                /** @description Only of this batch; needed where no gauge is named */
                batch_id?: string;
                /** @description Only of this feature */
                feature_id?: string;
                /** @description Only by this gauge: alone, whatever the batch, in the order they were taken */
                gauge_id?: string;
                /** @description Only of this piece */
                piece?: number;
                /** @description Only measured at or after this instant */
                from?: string;
                /** @description Only measured before this instant */
                to?: string;
                /** @description `true`: only those that somebody has voided; `false`: only those that count */
                voided?: "true" | "false";
                /** @description `csv`: a table for a spreadsheet, the whole list at once whatever `limit` says */
                format?: "json" | "csv";
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Readings, oldest first; voided ones among them */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ReadingList"];
                    "text/csv": string;
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createReadings: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["ReadingsCreate"];
            };
        };
        responses: {
            /** @description What follows from the readings, the one thing to do next first */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ReadingsAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Something is named that there isn't, or cannot be; a temperature without the gauge's or without a coefficient of expansion; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getReading: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the reading */
                reading_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The reading */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Reading"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such reading */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getReadingPoints: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the reading */
                reading_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The points */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ReadingPoints"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such reading, or it came without points */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    voidReading: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the reading */
                reading_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Void"];
            };
        };
        responses: {
            /** @description What would have been without it */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ReadingVoided"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such reading */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is voided already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listLogLayouts: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Layouts, oldest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LogLayoutList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createLogLayout: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["LogLayoutCreate"];
            };
        };
        responses: {
            /** @description The layout as it is kept */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LogLayout"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The name is taken, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getLogLayout: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The layout */
                layout_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The layout */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LogLayout"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such layout */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    replaceLogLayout: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The layout */
                layout_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["LogLayoutCreate"];
            };
        };
        responses: {
            /** @description The layout as it is kept now */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LogLayout"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such layout */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The name is taken */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    tryLogLayout: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["LogLayoutTrialCreate"];
            };
        };
        responses: {
            /** @description What would be read */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["LogLayoutTrial"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such layout */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createReadingImport: {
        parameters: {
            query?: {
                /** @description How it is read */
                layout_id?: string;
                /** @description Or the layout's name */
                layout?: string;
                /** @description Batch of all its readings; absent: each says its own */
                batch_id?: string;
                /** @description Or the batch's name */
                batch?: string;
                /** @description Gauge of readings that name none; absent: the feature's own */
                gauge_id?: string;
                /** @description Or its name */
                gauge?: string;
                /** @description Who took them, where the file does not say */
                taken_by?: string;
                /** @description Piece of the first reading, or of the first new serial number, where the layout counts */
                first_piece?: number;
                /** @description Unit of values that bear none in this file; counts more than the layout's */
                unit?: "mm" | "µm" | "inch" | "cm" | "m" | "nm" | "µin" | "mil" | "deg" | "arcmin" | "arcsec" | "rad";
                /** @description Format `qif`: unit of angles that bear none in this document; counts more than the layout's */
                angle_unit?: "deg" | "arcmin" | "arcsec" | "rad";
                /** @description What people know the file by */
                source?: string;
                /** @description True: more is to come (POST …/content), and a last line without its end waits for it */
                open?: boolean;
                /** @description True: nothing is kept; the answer says what would be */
                dry_run?: boolean;
            };
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description A dry run: what would become of the file */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportAnswer"];
                };
            };
            /** @description What became of the file */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportAnswer"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such layout or batch; the file can't be read at all; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    continueReadingImport: {
        parameters: {
            query: {
                /** @description Where the body begins in the file, bytes from 0; not beyond the import's next_offset. What was read before is passed over */
                offset: number;
                /** @description True: the file ends here */
                last?: boolean;
            };
            header?: never;
            path: {
                /** @description The import */
                import_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description How far it has come, and what this piece brought */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportAnswer"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such import */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It has come to its end, another request is reading it on, or bytes are missing in between */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The file can't be read on */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    retryReadingImport: {
        parameters: {
            query?: {
                /** @description Unit of values that bear none in this file; counts more than the layout's */
                unit?: "mm" | "µm" | "inch" | "cm" | "m" | "nm" | "µin" | "mil" | "deg" | "arcmin" | "arcsec" | "rad";
                /** @description Format `qif`: unit of angles that bear none in this document; counts more than the layout's */
                angle_unit?: "deg" | "arcmin" | "arcsec" | "rad";
            };
            header?: never;
            path: {
                /** @description The import */
                import_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description How the import stands, and which lines are still refused */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportAnswer"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such import */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Another request is reading it on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listReadingImports: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
                /** @description Only those into this batch */
                batch_id?: string;
                /** @description Only those of this source */
                source?: string;
                /** @description Only those that stand so */
                status?: "open" | "complete" | "failed";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Imports, newest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ReadingImportList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getReadingImport: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The import */
                import_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The import */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ReadingImport"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such import */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listImportLines: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
                /** @description Only lines that stand so */
                state?: "refused" | "repeated" | "not_measured" | "mended";
            };
            header?: never;
            path: {
                /** @description The import */
                import_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Lines, in the order of the file */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportLineList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such import */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listImportedReadings: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description The import */
                import_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Readings, in the order of the file */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ImportedReadingList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such import */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listCorrections: {
        parameters: {
            query?: {
                /** @description Only those that stand like this */
                status?: "proposed" | "applied" | "declined" | "superseded" | "settled";
                /** @description Only of this batch */
                batch_id?: string;
                /** @description Only of this tool */
                tool_id?: string;
                /** @description Only of this register */
                register_id?: string;
                /** @description Only those that this person applied, declined, answered or voided */
                by?: string;
                /** @description Only where that was at or after this instant; of an open one counts when it was advised */
                from?: string;
                /** @description Only where it was before this instant */
                to?: string;
                /** @description `csv`: a table for a spreadsheet, the whole list at once whatever `limit` says */
                format?: "json" | "csv";
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Corrections by batch, oldest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CorrectionList"];
                    "text/csv": string;
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getCorrection: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Identity of the correction */
                correction_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The correction */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CorrectionRecord"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such correction */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    applyCorrection: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the correction */
                correction_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CorrectionApply"];
            };
        };
        responses: {
            /** @description The correction, and what follows */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CorrectionAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such correction */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It stands in another way already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It cannot be; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    declineCorrection: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the correction */
                correction_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CorrectionDecline"];
            };
        };
        responses: {
            /** @description The correction, and what follows */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CorrectionAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such correction */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It stands in another way already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It cannot be; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    answerFinding: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the correction */
                correction_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["CorrectionFinding"];
            };
        };
        responses: {
            /** @description The correction, and what follows */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CorrectionAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such correction */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It stands in another way already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It cannot be; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    voidCorrection: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Identity of the correction */
                correction_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Void"];
            };
        };
        responses: {
            /** @description The correction, and what follows */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CorrectionAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such correction */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It stands in another way already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It cannot be; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getWear: {
        parameters: {
            query?: {
                /** @description As it stands in this batch; absent: in the latest batch that the tool works in */
                batch_id?: string;
            };
            header?: never;
            path: {
                /** @description The tool */
                tool_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Wear of the tool */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Wear"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such tool or batch, or the tool does not work in that batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getEdgeOffsets: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The tool */
                tool_id: string;
                /** @description Identity of the edge */
                edge_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Offsets over the edge's pieces */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["EdgeOffsets"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such tool, or no such edge of it that counts */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getChecks: {
        parameters: {
            query?: {
                /** @description The piece; absent: the next one to be cut */
                piece?: number;
            };
            header?: never;
            path: {
                /** @description The batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The check plan of the piece, and the one thing to do next */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["CheckAnswer"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getInterval: {
        parameters: {
            query: {
                /** @description The batch */
                batch_id: string;
            };
            header?: never;
            path: {
                /** @description The feature */
                feature_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The interval */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Interval"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch, or the feature is not measured in it */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getChart: {
        parameters: {
            query: {
                /** @description individuals with moving ranges; means with ranges or standard deviations; ewma; cusum; innovations: what was not foreseen; p and np: pieces that failed; c and u: counts */
                kind: "individuals" | "mean_range" | "mean_s" | "ewma" | "cusum" | "innovations" | "p" | "np" | "c" | "u";
                /** @description The batch; absent: the latest one in which the feature was measured */
                batch_id?: string;
                /** @description The first piece to look at */
                from_piece?: number;
                /** @description The last piece to look at */
                to_piece?: number;
                /** @description Where it was measured; needed of a feature with places */
                place?: string;
                /** @description Only pieces of this seat */
                seat?: string;
                /** @description Only readings of this gauge */
                gauge_id?: string;
                /** @description `svg`: a picture of it, for a mail or a report; of itself alone, without script. Absent: a picture for who accepts `image/svg+xml` and no JSON, else json */
                format?: "json" | "svg";
                /** @description The latest so many pieces of the window; absent: 100 */
                last?: number;
                /** @description Pieces in a subgroup; absent: 5 for means (at most 25), 20 for p, np and u */
                subgroup_size?: number;
                /** @description Tests for patterns that are switched on, with commas between: a set (western_electric, nelson, iso_7870) or single ones such as nelson_3; absent: western_electric; empty: none */
                rules?: string;
            };
            header?: never;
            path: {
                /** @description The feature */
                feature_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The chart, or with format svg a picture of it */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Chart"];
                    "image/svg+xml": string;
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The feature has not been measured, or there is no such batch, or it is not measured there */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description This kind of chart cannot be drawn of what was measured */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getCapability: {
        parameters: {
            query?: {
                /** @description The batch; absent: the latest one in which the feature was measured */
                batch_id?: string;
                /** @description The first piece to look at */
                from_piece?: number;
                /** @description The last piece to look at */
                to_piece?: number;
                /** @description Where it was measured; needed of a feature with places */
                place?: string;
                /** @description Only pieces of this seat */
                seat?: string;
                /** @description Only readings of this gauge */
                gauge_id?: string;
                /** @description The latest so many batches in which it was measured, instead of batch_id; absent: 1 */
                batches?: number;
                /** @description The latest so many pieces of the window in each batch; absent: 1000 */
                last?: number;
                /** @description Confidence of the limits, two-sided; absent: 0.95 */
                confidence?: "0.9" | "0.95" | "0.99";
            };
            header?: never;
            path: {
                /** @description The feature */
                feature_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The indices */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Capability"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The feature has not been measured, or there is no such batch, or it is not measured there */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It has no size, or places of which none was named */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getDiagnosis: {
        parameters: {
            query?: {
                /** @description Only this piece, or with from_piece the pieces from there to it. Absent: the latest pieces measured since an edge, a fixture or a programme was changed */
                piece?: number;
                /** @description The first piece to look at */
                from_piece?: number;
                /** @description From this piece on something is different: what was read since is compared with the pieces before, not with the target. Absent: where a jump is open the piece from which on it is */
                since_piece?: number;
            };
            header?: never;
            path: {
                /** @description The batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The causes, most believable first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Diagnosis"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listEdgePieces: {
        parameters: {
            query?: {
                /** @description `csv`: a table for a spreadsheet, the whole list at once whatever `limit` says */
                format?: "json" | "csv";
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description The tool */
                tool_id: string;
                /** @description Identity of the edge */
                edge_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Ranges of pieces by batch; none of an edge that was voided */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["EdgePiecesList"];
                    "text/csv": string;
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such tool, or no such edge of it */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listRegisterPieces: {
        parameters: {
            query?: {
                /** @description Only where it held this value, in the machine's unit */
                value?: number | string;
                /** @description Only in this batch */
                batch_id?: string;
                /** @description `csv`: a table for a spreadsheet, the whole list at once whatever `limit` says */
                format?: "json" | "csv";
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description The register */
                register_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Ranges of pieces by batch, in cutting order */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ValuePiecesList"];
                    "text/csv": string;
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such register */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listCorrectionPieces: {
        parameters: {
            query?: {
                /** @description `csv`: a table for a spreadsheet, the whole list at once whatever `limit` says */
                format?: "json" | "csv";
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description Identity of the correction */
                correction_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Ranges of pieces by batch; none of one that was not applied */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ValuePiecesList"];
                    "text/csv": string;
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such correction */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listGaugePieces: {
        parameters: {
            query?: {
                /** @description Only measured at or after this instant */
                from?: string;
                /** @description Only measured before this instant */
                to?: string;
                /** @description `csv`: a table for a spreadsheet, all at once; what goes on from one page to the next stands in one row */
                format?: "json" | "csv";
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description The gauge */
                gauge_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description What was measured, by batch and feature */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["GaugePiecesList"];
                    "text/csv": string;
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such gauge */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listHolds: {
        parameters: {
            query?: {
                /** @description Only holds in this state. `open`: pieces of it are neither proved good nor settled; `decided`: all that is left of it is settled by decisions; `released`: readings have released every piece */
                state?: "open" | "decided" | "released";
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description The batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Holds in cutting order */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Holds"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    decidePiece: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description The batch */
                batch_id: string;
                /** @description The piece, numbered in cutting order */
                piece: number;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PieceDecisionCreate"];
            };
        };
        responses: {
            /** @description The decision, and what is still on hold */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DecisionsAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A piece has not been cut yet, a feature is named that the batch does not have or one that failed is left out; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listDecisions: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description The batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Decisions in the order they were entered */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PieceDecisionList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    decidePieces: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description The batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["PieceDecisionsCreate"];
            };
        };
        responses: {
            /** @description The decisions, and what is still on hold */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DecisionsAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A piece has not been cut yet, a feature is named that the batch does not have or one that failed is left out; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    voidDecision: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description The batch */
                batch_id: string;
                /** @description Identity of the decision */
                decision_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Void"];
            };
        };
        responses: {
            /** @description The decision as it is kept now, and what is on hold without it */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DecisionsAnswer"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such decision */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is voided already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listPieces: {
        parameters: {
            query?: {
                /** @description The first piece to list; absent: 1. A cursor goes before it */
                from_piece?: number;
                /** @description How many pieces to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path: {
                /** @description The batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The pieces that are known to be cut, in cutting order */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["PieceTable"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getPiece: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description The batch */
                batch_id: string;
                /** @description The piece, numbered in cutting order */
                piece: number;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The piece */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Piece"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch, or the piece is not known to be cut */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getSinglePlan: {
        parameters: {
            query: {
                /** @description Pieces in the lot */
                lot_size: number;
                /** @description Inspection level; II if absent */
                level?: "S-1" | "S-2" | "S-3" | "S-4" | "I" | "II" | "III";
                /** @description Acceptance quality limit, one of the preferred values: percent nonconforming up to 10 */
                aql: "10" | "15" | "25" | "40" | "65" | "100" | "150" | "250" | "400" | "650" | "1000" | "0.010" | "0.015" | "0.025" | "0.040" | "0.065" | "0.10" | "0.15" | "0.25" | "0.40" | "0.65" | "1.0" | "1.5" | "2.5" | "4.0" | "6.5";
                /** @description `normal` if absent; GET …/switching says which is due */
                inspection?: "normal" | "tightened" | "reduced";
                /** @description Pieces that are not right, or faults of which a piece may have several: these alone go beyond 10 */
                counts?: "nonconforming" | "nonconformities";
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The plan */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["SinglePlan"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description An AQL above 10 is for nonconformities only */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getZeroAcceptancePlan: {
        parameters: {
            query: {
                /** @description Pieces in the lot */
                lot_size: number;
                /** @description Quality that must hardly ever be accepted (lot tolerance percent defective) */
                ltpd_percent: number;
                /** @description How often it may be accepted all the same; 0.1 if absent */
                consumer_risk?: number;
                /** @description Quality that should nearly always be accepted; absent: not asked about */
                aql_percent?: number;
                /** @description How often that may be rejected all the same; 0.05 if absent */
                producer_risk?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The plan */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ZeroAcceptancePlan"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getContinuousPlan: {
        parameters: {
            query?: {
                /** @description Average outgoing quality limit, percent */
                aoql_percent?: number;
                /** @description Clearance number: good pieces in a row that end full inspection */
                i?: number;
                /** @description 1 in so many is inspected while sampling */
                f_denominator?: number;
                /** @description `removed`: bad pieces found are taken out; `replaced`: good ones take their place; `removed` if absent */
                bad_pieces?: "removed" | "replaced";
                /** @description Percent bad in production, to say how the plan behaves then */
                percent?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The plan and how it behaves */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ContinuousPlan"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not two of the three are given, or no plan keeps the AOQL */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getOperatingCharacteristic: {
        parameters: {
            query: {
                /** @description Pieces to inspect */
                n: number;
                /** @description Acceptance number: with so many nonconforming or fewer the lot is accepted */
                ac: number;
                /** @description `binomial`: lots from a long-running process; `hypergeometric`: one lot, whose `lot_size` is needed; `poisson`: nonconformities */
                model?: "binomial" | "hypergeometric" | "poisson";
                /** @description Pieces in the lot */
                lot_size?: number;
                /** @description First percentage; absent: near 0 */
                from_percent?: number;
                /** @description Last percentage; absent: where one lot in a thousand is accepted */
                to_percent?: number;
                /** @description How many points; 50 if absent */
                points?: number;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The curve */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["OperatingCharacteristic"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Sample, acceptance number, lot and range do not go together */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getSwitching: {
        parameters: {
            query: {
                /** @description Results of the lots in order, original inspection only: A accepted, T accepted and would also be at the next tighter AQL, B more than Ac but fewer than Re (reduced), R rejected */
                lots: string;
                /** @description Acceptance number in force: it decides what a lot scores; 0 if absent */
                ac?: number;
                /** @description Production is steady and the responsible authority agrees to reduced inspection */
                reduced_allowed?: boolean;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The lots with their inspection, and what comes next */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Switching"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getOutlook: {
        parameters: {
            query: {
                /** @description The machine that it is to run on */
                machine_id: string;
                /** @description How many pieces */
                quantity: number;
                /** @description The operation that is to be run; absent: every feature counts */
                operation?: string;
                /** @description What to take for gauges of which nobody has said how long a reading takes; absent: nothing is taken */
                minutes_per_reading?: number;
            };
            header?: never;
            path: {
                /** @description The part that is to be made */
                part_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description What is to be expected, and what it rests on */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Outlook"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such part */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such machine, or the part has no feature in this operation */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getReport: {
        parameters: {
            query?: {
                /** @description `html`: to read and print; `csv`: one row for each reading and each thing not measured; `qif`: a results document of QIF 3.0 (ISO 23952) with every size that was measured */
                format?: "json" | "html" | "pdf" | "csv" | "qif";
                /** @description Format `qif`: only this piece */
                piece?: number;
                /** @description Of the PDF; it lies across */
                paper?: "a4" | "letter";
            };
            header?: never;
            path: {
                /** @description The batch */
                batch_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The report, in the form asked for */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Report"];
                    "text/html": string;
                    "application/pdf": string;
                    "text/csv": string;
                    "application/xml": string;
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such batch */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description As many reports as at once are being written */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listFirstArticles: {
        parameters: {
            query?: {
                /** @description Only those of this part */
                part_id?: string;
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description First articles, oldest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["FirstArticleList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createFirstArticle: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["FirstArticleCreate"];
            };
        };
        responses: {
            /** @description The first article as it stands */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["FirstArticle"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The report number is taken, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description A part, batch, piece, characteristic or first article that there is not; or the Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getFirstArticle: {
        parameters: {
            query?: {
                /** @description In which form */
                format?: "json" | "html" | "pdf" | "csv";
                /** @description Of the PDF; it lies across */
                paper?: "a4" | "letter";
                /** @description Revision of AS9102 that the customer goes by: `b` has signatures below the characteristics as well */
                edition?: "b" | "c";
            };
            header?: never;
            path: {
                /** @description The first article */
                first_article_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The report, in the form asked for */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["FirstArticle"];
                    "text/html": string;
                    "application/pdf": string;
                    "text/csv": string;
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such first article */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    voidFirstArticle: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description The first article */
                first_article_id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["Void"];
            };
        };
        responses: {
            /** @description The first article as it is kept now */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["FirstArticle"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such first article */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description It is voided already, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getFirstArticleDue: {
        parameters: {
            query?: {
                /** @description When production is to begin again; absent: now */
                at?: string;
            };
            header?: never;
            path: {
                /** @description The part */
                part_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description What is due */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["FirstArticleDue"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such part */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listenToChanges: {
        parameters: {
            query?: never;
            header?: {
                /** @description Id of the last event that was read */
                "last-event-id"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Events, as they happen */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "text/event-stream": string;
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description So many listen already that another one would not be told in good time */
            503: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listKeys: {
        parameters: {
            query?: {
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Keys, oldest first; revoked ones among them */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["KeyList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createKey: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["KeyCreate"];
            };
        };
        responses: {
            /** @description The key */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["NewKey"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The name is taken, or the same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    revokeKey: {
        parameters: {
            query?: never;
            header?: {
                /** @description A name for this request, chosen by the sender: sent again with the same key, it is answered as the first time */
                "idempotency-key"?: string;
            };
            path: {
                /** @description Which key */
                key_id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The key as it is now */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Key"];
                };
            };
            /** @description A header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description There is no such key */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The same request is still being worked on */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The Idempotency-Key belongs to another request */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getSession: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Who is signed in */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Session"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    createSession: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": components["schemas"]["SessionCreate"];
            };
        };
        responses: {
            /** @description Who is signed in */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Session"];
                };
            };
            /** @description The body or a header is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is above 5 MB */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The body is no JSON */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    deleteSession: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Nobody is signed in */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Session"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listChanges: {
        parameters: {
            query?: {
                /** @description Made at this time or later */
                from?: string;
                /** @description Made before this time */
                to?: string;
                /** @description Made with the key of this name */
                key?: string;
                /** @description Made by this operation of the contract */
                operation?: string;
                /** @description That concerned this, such as batch_id:12 */
                entity?: string;
                /** @description How many to list at most; 50 if absent */
                limit?: number;
                /** @description `next_cursor` of the page before; absent for the first page */
                cursor?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Changes, newest first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["ChangeList"];
                };
            };
            /** @description A query parameter is not formed as it says here */
            400: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description No key came along, or an unknown one */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The key's role may not do this, or another site's page has sent it */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
}
