package io.evenwarm.message;

import java.util.List;
import java.util.Optional;

/** What passes over a link. {@code docs/protocol.md} says who sends what, and when. */
public sealed interface Message {

    /**
     * The first message of either side.
     *
     * @param versions the protocol versions that the sender speaks, best first
     * @param side which end the sender is
     * @param name what the sender is called: the agent's name, or the monitor's
     * @param program name and version of the sender's program, for people
     * @param clockRate how many of the sender's seconds pass in one second: 1, or more when it is a
     *     simulation that runs fast
     */
    record Hello(List<Integer> versions, Side side, String name, String program, double clockRate)
            implements Message {

        public Hello {
            versions = List.copyOf(versions);
            if (!(clockRate > 0 && clockRate <= 100_000)) {
                throw new IllegalArgumentException(
                        "clock rate must be above 0 and at most 100000 but was " + clockRate);
            }
        }

        /** Which end of a link. */
        public enum Side {
            AGENT,
            MONITOR,
            /** A command at the agent's own machine. */
            LOCAL
        }
    }

    /** The agent's newest snapshot of one cabinet; older unsent ones are dropped for it. */
    record Live(CabinetSnapshot snapshot) implements Message {}

    /**
     * Asks for the journal after a sequence number.
     *
     * @param afterSequence the last one that the asker has stored; 0 for all
     */
    record HistoryRequest(long afterSequence) implements Message {}

    /**
     * Journal entries in order. The next batch follows once this one is acknowledged.
     *
     * @param journal names the journal: another name means that the numbers began anew
     * @param records at most {@value #MAX_RECORDS}
     */
    record HistoryBatch(String journal, List<JournalRecord> records) implements Message {

        /** Keeps a batch well below a frame's size. */
        public static final int MAX_RECORDS = 64;

        public HistoryBatch {
            records = List.copyOf(records);
            if (records.size() > MAX_RECORDS) {
                throw new IllegalArgumentException(
                        "a batch holds at most "
                                + MAX_RECORDS
                                + " records but had "
                                + records.size());
            }
        }
    }

    /** Everything up to this sequence number is stored at the monitor. */
    record Acknowledge(long sequence) implements Message {}

    /**
     * A command.
     *
     * @param id chosen by the sender; its outcome carries the same
     */
    record CommandRequest(long id, Command command) implements Message {}

    /** What became of the command with that id. */
    record CommandAnswer(long id, CommandOutcome outcome) implements Message {}

    /**
     * Asks for every cabinet's newest snapshot, once; answered by a {@link Live} each and a {@link
     * StatusEnd}.
     */
    record StatusRequest() implements Message {}

    /**
     * Ends the answer to a {@link StatusRequest}.
     *
     * @param troubles each place where monitors should connect and can't, with the reason; empty
     *     when there is none
     * @param previousRun how the agent's run before this one ended
     * @param clock whether the agent's wall clock is right and who said so, for a person
     */
    record StatusEnd(
            Optional<List<String>> troubles,
            Optional<PreviousRun> previousRun,
            Optional<String> clock)
            implements Message {

        public StatusEnd {
            troubles = troubles.map(List::copyOf);
        }
    }

    /**
     * Tells the other side the sender's time.
     *
     * @param moment the sender's; its boot and monotonic time are those of the sender's own run
     * @param answersMonotonicNanos of a monitor: the monotonic time in the agent's message that
     *     this answers, which tells the agent how long the answer was on its way
     */
    record Time(Moment moment, Optional<Long> answersMonotonicNanos) implements Message {

        /** Of an agent's own accord. */
        public Time(Moment moment) {
            this(moment, Optional.empty());
        }
    }

    /** Nothing to say, but alive. */
    record KeepAlive() implements Message {}

    /** The sender is about to close the link. */
    record Goodbye(String reason) implements Message {}
}
