package io.evenwarm.agent.journal;

import io.evenwarm.message.JournalRecord;
import java.util.List;

/**
 * Some committed records of one journal.
 *
 * @param journal names the journal; another name means that the numbers began anew
 * @param records in order of their sequence, without a gap between them
 */
public record JournalSlice(String journal, List<JournalRecord> records) {

    public JournalSlice {
        records = List.copyOf(records);
    }
}
