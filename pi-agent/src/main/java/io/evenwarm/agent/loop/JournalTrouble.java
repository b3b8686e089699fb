package io.evenwarm.agent.loop;

import io.evenwarm.agent.port.SnapshotListener;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Finding;
import io.evenwarm.message.FindingCode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Adds to each snapshot that the journal can't be written, on its way to those who tell a person.
 * The cabinet's loop knows no journal, so that a dead one changes no decision; this is where the
 * two meet.
 *
 * <p>Called by the control thread only.
 */
public final class JournalTrouble implements SnapshotListener {

    private final Supplier<Optional<String>> trouble;
    private final List<SnapshotListener> listeners;
    private boolean failing;
    private long sinceNanos;

    /**
     * @param trouble what is wrong with the journal now; empty when nothing is
     * @param listeners get the snapshot with what is added
     */
    public JournalTrouble(Supplier<Optional<String>> trouble, List<SnapshotListener> listeners) {
        this.trouble = trouble;
        this.listeners = List.copyOf(listeners);
    }

    @Override
    public void published(CabinetSnapshot snapshot) {
        CabinetSnapshot told = withTrouble(snapshot);
        for (SnapshotListener listener : listeners) {
            listener.published(told);
        }
    }

    private CabinetSnapshot withTrouble(CabinetSnapshot snapshot) {
        Optional<String> words = trouble.get();
        if (words.isEmpty()) {
            failing = false;
            return snapshot;
        }
        if (!failing) {
            failing = true;
            sinceNanos = snapshot.moment().monotonicNanos();
        }
        List<Finding> findings = new ArrayList<>(snapshot.findings());
        findings.add(
                new Finding(
                        FindingCode.JOURNAL_FAILING,
                        Optional.empty(),
                        sinceNanos,
                        words.get(),
                        "control goes on; what can't be written waits in memory for a while",
                        "free disk space or look after the disk, before the record has a gap"));
        return snapshot.withFindings(findings);
    }
}
