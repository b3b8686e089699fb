package io.evenwarm.agent.durable;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A note that the agent is alive, on which boot of the machine and since when, so that the next
 * start can tell a power cut from an end that somebody wanted.
 *
 * <p>Not thread-safe.
 */
public final class LifeNote {

    private static final System.Logger LOG = System.getLogger(LifeNote.class.getName());
    private static final String FORM = "evenwarm life 1";
    private static final String MACHINE = "machine boot ";
    private static final String STATE = "state ";
    private static final String RUNNING = STATE + "running";
    private static final String ENDED = STATE + "ended";
    private static final String TIME = "last known time ";
    private static final String NO_TIME = "none";

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
     * What the last run left.
     *
     * @param lastAlive by a trusted clock; empty when it had none
     */
    public record PowerCut(Optional<Instant> lastAlive) {}

    /**
     * Whether the machine went off under the last run: it had not ended, and the machine has booted
     * since. Empty as well when nothing can be read.
     */
    public Optional<PowerCut> powerCut() {
        try {
            Optional<List<String>> lines = file.read();
            if (lines.isEmpty()) {
                return Optional.empty();
            }
            List<String> found = lines.get();
            boolean isOurs =
                    found.size() == 4
                            && found.get(0).equals(FORM)
                            && found.get(1).startsWith(MACHINE)
                            && found.get(3).startsWith(TIME);
            if (!isOurs) {
                throw new IOException("no life note but " + found);
            }
            boolean isCut =
                    found.get(2).equals(RUNNING) && !found.get(1).equals(MACHINE + machineBoot);
            String time = found.get(3).substring(TIME.length());
            return isCut
                    ? Optional.of(
                            new PowerCut(
                                    time.equals(NO_TIME)
                                            ? Optional.empty()
                                            : Optional.of(Instant.parse(time))))
                    : Optional.empty();
        } catch (IOException | RuntimeException e) {
            LOG.log(
                    System.Logger.Level.WARNING,
                    "whether the machine was off before this start is not known: {0}",
                    e.getMessage());
            return Optional.empty();
        }
    }

    /**
     * Notes that the agent runs.
     *
     * @param trustedNow the wall clock, when something has set it; empty keeps what was known
     * @throws IOException when it can't be written
     */
    public void running(Optional<Instant> trustedNow) throws IOException {
        lastKnown = trustedNow.isPresent() ? trustedNow : lastKnown;
        write(RUNNING);
    }

    /**
     * Notes that the agent ended as it should.
     *
     * @throws IOException when it can't be written
     */
    public void ended() throws IOException {
        write(ENDED);
    }

    private void write(String state) throws IOException {
        file.write(
                List.of(
                        FORM,
                        MACHINE + machineBoot,
                        state,
                        TIME + lastKnown.map(Instant::toString).orElse(NO_TIME)));
    }
}
