package io.evenwarm.agent.app;

import io.evenwarm.agent.durable.LifeNote;
import io.evenwarm.agent.journal.Journal;
import io.evenwarm.agent.serve.RunState;
import io.evenwarm.clock.TrueTime;
import io.evenwarm.message.PreviousRun;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicReference;

/** This run of the agent, as its sessions see it. */
final class OwnRun implements RunState {

    private static final Logger LOG = System.getLogger(OwnRun.class.getName());

    private final TrueTime time;
    private final LifeKeeper life;
    private final Journal journal;
    private final boolean isRealTime;
    private final AtomicReference<TrueTime.Outcome> told =
            new AtomicReference<>(TrueTime.Outcome.NOT_NEEDED);

    /**
     * @param isRealTime whether the cabinets' time is that of the world; a simulation's, which runs
     *     faster, nobody can tell
     */
    OwnRun(TrueTime time, LifeKeeper life, Journal journal, boolean isRealTime) {
        this.time = time;
        this.life = life;
        this.journal = journal;
        this.isRealTime = isRealTime;
    }

    @Override
    public Optional<PreviousRun> previousRun() {
        return journal.previousRun();
    }

    @Override
    public Optional<String> clockWords() {
        return Optional.of(time.words());
    }

    @Override
    public void timeTold(String by, Instant wall, long askedAtNanos) {
        if (!isRealTime) {
            return;
        }
        TrueTime.Outcome outcome = time.tell(by, wall, askedAtNanos, earliest());
        // Once for each turn of things: a monitor tells the time every minute, or more often.
        if (told.getAndSet(outcome) == outcome) {
            return;
        }
        switch (outcome) {
            case TAKEN -> LOG.log(Level.INFO, "monitor {0} told the time: {1}", by, wall);
            case REFUSED ->
                    LOG.log(
                            Level.WARNING,
                            "monitor {0} says that it is {1}, which is before what is journalled"
                                    + " already or far from what it said before: not believed. Set"
                                    + " its clock, or give this machine a time service",
                            by,
                            wall);
            case TOO_SLOW, NOT_NEEDED -> {}
        }
    }

    /** No time is believed that would put this run before what is known of earlier ones. */
    private Optional<Instant> earliest() {
        Optional<Instant> noted = life.left().flatMap(LifeNote.Left::lastKnown);
        Optional<Instant> journalled = journal.lastTrustedBefore();
        return journalled
                .filter(there -> noted.isEmpty() || there.isAfter(noted.get()))
                .or(() -> noted);
    }
}
