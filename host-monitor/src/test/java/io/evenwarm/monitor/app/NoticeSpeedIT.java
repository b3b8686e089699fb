package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.link.KeyPin;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.FindingCode;
import io.evenwarm.monitor.FoundByHand;
import io.evenwarm.monitor.notice.channel.KillablePost;
import io.evenwarm.monitor.notice.channel.NeedsMosquitto;
import io.evenwarm.testing.Programs;
import io.evenwarm.testing.Waiting;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.api.parallel.Isolated;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * From a finding that leaves its agent to the mail that tells of it, through the built monitor and
 * a real mail server, when 100 cabinets are in alarm at once. A finding has had its delay at the
 * agent: the monitor adds none.
 *
 * <p>{@code -Dspeed.bursts=5} for so many times 100; {@code -Dspeed.seconds=2} to fail above that.
 */
@Tag("long")
@NeedsMosquitto
@Isolated("measures how long something takes")
final class NoticeSpeedIT {

    private static final int CABINETS = 100;
    private static final int BURSTS = Integer.getInteger("speed.bursts", 1);

    /** Beside other work on the same machine: the figure itself is printed. */
    private static final double SECONDS_ALLOWED =
            Double.parseDouble(System.getProperty("speed.seconds", "20"));

    private static final double QUANTILE = 0.99;
    private static final int SECONDS_MAX = 120;
    private static final int SETTLE_SECONDS = 15;

    /** None explains another. */
    private static final List<FindingCode> CODES =
            List.of(
                    FindingCode.DOOR_OPEN,
                    FindingCode.PROBE_FROZEN,
                    FindingCode.RELAY_CHATTER,
                    FindingCode.HEATER_STUCK_ON,
                    FindingCode.PROBE_NOISY,
                    FindingCode.STATE_NOT_SAVED);

    private final Path folder;
    private final Programs programs;

    NoticeSpeedIT(@TempDir Path folder) {
        this.folder = folder;
        programs = new Programs(folder);
    }

    @AfterEach
    void endAll() {
        programs.close();
    }

    /**
     * @param agents 10: one cause at each of ten agents is ten events that list ten cabinets each;
     *     50: two causes at each of fifty agents, so that each cabinet is an event of its own
     */
    @ParameterizedTest
    @ValueSource(ints = {10, 50})
    void peopleAreToldOfAHundredCabinetsAtOnceInTime(int agents) throws Exception {
        Path settings = folder.resolve("monitor.toml");
        KeyPin key = programs.monitorKey(settings);
        List<FoundByHand> there = new ArrayList<>();
        StringBuilder text = new StringBuilder("[monitor]\ndata_folder = \"data\"\n");
        for (int i = 0; i < agents; i++) {
            FoundByHand agent = new FoundByHand("agent" + i, CABINETS / agents, key);
            there.add(agent);
            text.append(agent.settings());
        }
        try (KillablePost post = new KillablePost(folder.resolve("post"))) {
            Files.writeString(settings, text.append(post.settings()));
            programs.start(
                    "monitor",
                    Programs.MONITOR.toString(),
                    "watch",
                    "--every",
                    "5",
                    "--settings",
                    settings.toString());
            Waiting.until(
                    SECONDS_MAX,
                    () ->
                            there.stream()
                                    .allMatch(
                                            agent ->
                                                    programs.said("monitor")
                                                            .contains(
                                                                    agent.cabinets().get(0).value()
                                                                            + " ")),
                    () -> programs.said("monitor"));
            TimeUnit.SECONDS.sleep(SETTLE_SECONDS);
            List<Double> seconds = new ArrayList<>();
            for (int burst = 0; burst < BURSTS; burst++) {
                int first = burst;
                int before = post.mails().size();
                there.forEach(agent -> find(agent, agents, first));
                Waiting.until(
                        SECONDS_MAX,
                        () -> taken(there, post, before).size() == CABINETS,
                        () -> "told of " + taken(there, post, before).size());
                seconds.addAll(taken(there, post, before));
                TimeUnit.SECONDS.sleep(2);
            }
            double[] sorted = seconds.stream().mapToDouble(Double::doubleValue).sorted().toArray();
            double worst = sorted[(int) Math.ceil(QUANTILE * sorted.length) - 1];
            System.out.printf(
                    Locale.ROOT,
                    "%d cabinets at once at %d agents, %d times: from the finding to the mail that"
                            + " names it, median %.2f s, 99th percentile %.2f s, longest %.2f s%n",
                    CABINETS,
                    agents,
                    BURSTS,
                    sorted[sorted.length / 2],
                    worst,
                    sorted[sorted.length - 1]);
            assertTrue(worst < SECONDS_ALLOWED, Arrays.toString(sorted));
        } finally {
            there.forEach(FoundByHand::close);
        }
    }

    private static void find(FoundByHand agent, int agents, int burst) {
        for (int i = 0; i < agent.cabinets().size(); i++) {
            int cause = agents < CABINETS / 2 ? 0 : i * CODES.size() / 2;
            agent.find(agent.cabinets().get(i), CODES.get((burst + cause) % CODES.size()));
        }
    }

    /** Of each cabinet that a mail named: from its finding to the first such mail, s. */
    private static List<Double> taken(List<FoundByHand> agents, KillablePost post, int before) {
        List<KillablePost.Mail> mails;
        try {
            List<KillablePost.Mail> all = post.mails();
            mails = all.subList(before, all.size());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        List<Double> taken = new ArrayList<>();
        for (FoundByHand agent : agents) {
            for (CabinetName cabinet : agent.cabinets()) {
                Optional<Instant> sent = agent.firstSent(cabinet);
                Optional<Instant> told =
                        mails.stream()
                                .filter(mail -> mail.body().contains("/ " + cabinet + ":"))
                                .map(KillablePost.Mail::at)
                                .findFirst();
                if (sent.isPresent() && told.isPresent()) {
                    taken.add(Duration.between(sent.get(), told.get()).toMillis() / 1000.0);
                }
            }
        }
        return taken;
    }
}
