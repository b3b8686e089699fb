package io.evenwarm.agent.durable;

import io.evenwarm.message.BootId;
import io.evenwarm.message.Moment;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * A note that the agent is alive, on which boot of the machine and since when, so that the next
 * start can tell a power cut and a crash from an end that somebody wanted.
 *
 * <p>Not thread-safe.
 */
public final class LifeNote {

    private static final System.Logger LOG = System.getLogger(LifeNote.class.getName());
    private static final String FORM = "evenwarm life 2";
    private static final String FIRST_FORM = "evenwarm life 1";
    private static final String MACHINE = "machine boot ";
    private static final String STATE = "state ";
    private static final String RUNNING = STATE + "running";
    private static final String ENDED = STATE + "ended";
    private static final String TIME = "last known time ";
    private static final String NO_TIME = "none";
    private static final String RUN = "run ";
    private static final String MONOTONIC = "monotonic nanoseconds ";
    private static final String WALL = "wall ";
    private static final String TRUSTED = "wall trusted ";

    private final NoteFile file;
    private final String machineBoot;
    private Optional<Instant> lastKnown = Optional.empty();

    /**
     * @param folder the agent's state folder; must exist
     * @param machineBoot the kernel's id of this boot, one word
     */
    public LifeNote(Path folder, String machineBoot) {
        this.file = new NoteFile(SmallFiles.real(), folder.resolve("life.txt"));
        this.machineBoot = machineBoot;
    }

    /**
     * What a run left.
     *
     * @param machineBoot the machine's boot that it ran on
     * @param hasEnded whether somebody ended it
     * @param lastAlive when it wrote this, on its own clocks; empty in a note of the first form
     * @param lastKnown when it last knew the time by a trusted clock; empty when it never did
     */
    public record Left(
            String machineBoot,
            boolean hasEnded,
            Optional<Moment> lastAlive,
            Optional<Instant> lastKnown) {

        /** That the machine went off under that run, as the machine's boot of now tells. */
        public Optional<PowerCut> powerCut(String machineBootNow) {
            return !hasEnded && !machineBoot.equals(machineBootNow)
                    ? Optional.of(new PowerCut(lastKnown))
                    : Optional.empty();
        }
    }

    /**
     * What the last run left.
     *
     * @param lastAlive by a trusted clock; empty when it had none
     */
    public record PowerCut(Optional<Instant> lastAlive) {}

    /** What the last run left; empty when nothing is there or it can't be read. */
    public Optional<Left> left() {
        try {
            Optional<List<String>> lines = file.read();
            return lines.isPresent() ? Optional.of(parsed(lines.get())) : Optional.empty();
        } catch (IOException | RuntimeException e) {
            LOG.log(
                    System.Logger.Level.WARNING,
                    "whether the machine was off before this start is not known: {0}",
                    e.getMessage());
            return Optional.empty();
        }
    }

    private static Left parsed(List<String> found) throws IOException {
        boolean isFirst = found.size() == 4 && found.get(0).equals(FIRST_FORM);
        boolean isOurs = isFirst || (found.size() == 8 && found.get(0).equals(FORM));
        if (!isOurs) {
            throw new IOException("no life note but " + found);
        }
        String time = behind(TIME, found.get(3));
        return new Left(
                behind(MACHINE, found.get(1)),
                !found.get(2).equals(RUNNING),
                isFirst ? Optional.empty() : Optional.of(moment(found)),
                time.equals(NO_TIME) ? Optional.empty() : Optional.of(Instant.parse(time)));
    }

    private static Moment moment(List<String> found) throws IOException {
        return new Moment(
                new BootId(UUID.fromString(behind(RUN, found.get(4)))),
                Long.parseLong(behind(MONOTONIC, found.get(5))),
                Instant.parse(behind(WALL, found.get(6))),
                Boolean.parseBoolean(behind(TRUSTED, found.get(7))));
    }

    private static String behind(String head, String line) throws IOException {
        if (!line.startsWith(head)) {
            throw new IOException("no life note: \"" + line + "\" instead of \"" + head + "…\"");
        }
        return line.substring(head.length());
    }

    /**
     * Whether the machine went off under the last run: it had not ended, and the machine has booted
     * since. Empty as well when nothing can be read.
     */
    public Optional<PowerCut> powerCut() {
        return left().flatMap(there -> there.powerCut(machineBoot));
    }

    /**
     * Notes that the agent runs.
     *
     * @param now the run's clocks
     * @param trustedNow the wall clock, when something has set it; empty keeps what was known
     * @throws IOException when it can't be written
     */
    public void running(Moment now, Optional<Instant> trustedNow) throws IOException {
        lastKnown = trustedNow.isPresent() ? trustedNow : lastKnown;
        write(RUNNING, now);
    }

    /**
     * Notes that the agent ended as it should.
     *
     * @throws IOException when it can't be written
     */
    public void ended(Moment now) throws IOException {
        write(ENDED, now);
    }

    private void write(String state, Moment now) throws IOException {
        file.write(
                List.of(
                        FORM,
                        MACHINE + machineBoot,
                        state,
                        TIME + lastKnown.map(Instant::toString).orElse(NO_TIME),
                        RUN + now.boot(),
                        MONOTONIC + now.monotonicNanos(),
                        WALL + now.wall(),
                        TRUSTED + now.wallTrusted()));
    }
}
