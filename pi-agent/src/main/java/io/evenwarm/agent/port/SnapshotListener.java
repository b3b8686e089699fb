package io.evenwarm.agent.port;

import io.evenwarm.message.CabinetSnapshot;

/** Hears of every snapshot, on the control thread, after the outputs were driven. */
@FunctionalInterface
public interface SnapshotListener {

    /** Takes the snapshot and returns at once: must not block, do I/O or throw. */
    void published(CabinetSnapshot snapshot);
}
