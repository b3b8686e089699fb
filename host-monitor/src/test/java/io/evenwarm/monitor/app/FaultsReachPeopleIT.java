package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.KeyPin;
import io.evenwarm.monitor.notice.channel.KillablePost;
import io.evenwarm.monitor.notice.channel.NeedsMosquitto;
import io.evenwarm.testing.Programs;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Every kind of fault that a cabinet can have, through the built programs: an agent whose simulated
 * cabinets have one each, a monitor, a mail server and a broker in processes of their own.
 * Simulated time runs {@value #SPEED} times as fast as the monitor's; what the monitor itself waits
 * for is waited for.
 *
 * <p>{@code -Dfaults.slow=true} for those too that need hours of it.
 */
@Tag("long")
@NeedsMosquitto
final class FaultsReachPeopleIT {

    private static final int SPEED = 300;

    /** Until all cabinets are at their set points and what is sound of them is learned. */
    private static final int SOUND_HOURS = 8;

    private static final boolean WITH_SLOW = Boolean.getBoolean("faults.slow");
    private static final int SECONDS_MAX = WITH_SLOW ? 1800 : 500;

    /**
     * One cabinet's fault.
     *
     * @param keys of its table
     * @param codes any of these names it, as the table of docs/scenarios.md says
     * @param isSlow whether it needs more than some minutes of the test's own time
     */
    private record Case(String kind, String keys, Set<String> codes, boolean isSlow) {
        String cabinet() {
            return kind;
        }
    }

    private static Case fast(String kind, String keys, String... codes) {
        return new Case(kind, keys, Set.of(codes), false);
    }

    private static Case slow(String kind, String keys, String... codes) {
        return new Case(kind, keys, Set.of(codes), true);
    }

    private static final List<Case> CASES =
            List.of(
                    fast("heater-stuck-on", "", "heater-stuck-on"),
                    fast("heater-open", "", "heater-dead"),
                    slow("heater-weak", "power_share = 0.3", "heater-weak", "heater-dead"),
                    fast("fan-stopped", "", "fan-stopped"),
                    slow("fan-slow", "flow_share = 0.3", "fan-weak", "fan-stopped"),
                    fast("probe-frozen", "probe = \"middle\"", "probe-frozen"),
                    slow("probe-drift", "probe = \"top\"\nkelvin_per_hour = 0.3", "probe-drifting"),
                    fast("probe-dropout", "probe = \"middle\"", "probe-lost"),
                    fast("probe-fell-out", "probe = \"bottom\"", "probe-fallen-out"),
                    slow("probes-swapped", "probe = \"top\"\nwith = \"room\"", "probes-swapped"),
                    fast("probe-noise", "probe = \"middle\"\nkelvin = 2", "probe-noisy"),
                    fast("bus-errors", "share = 0.9", "probe-lost", "blind"),
                    fast("bus-hang", "", "probe-lost", "blind"),
                    fast("cut-off-relay-stuck", "", "cut-off-relay-stuck"),
                    // The monitor lets an open door be for 10 min of its own time.
                    slow("door-open", "", "door-open"),
                    fast("mains-cut", "", "heater-dead", "fan-stopped", "mains-returned"),
                    // Cold eggs are told of, whether or not the agent names the room for it.
                    slow("ambient-step", "kelvin = -30", "room-too-cold", "too-cold"));

    private final Path folder;
    private final Programs programs;

    FaultsReachPeopleIT(@TempDir Path folder) {
        this.folder = folder;
        programs = new Programs(folder);
    }

    @AfterEach
    void endAll() {
        programs.close();
    }

    private static List<Case> cases() {
        return CASES.stream().filter(one -> WITH_SLOW || !one.isSlow()).toList();
    }

    private String said(String name, String... command) throws IOException, InterruptedException {
        Process asking = programs.start(name, command);
        assertEquals(0, asking.waitFor(), programs.said(name));
        return programs.await(name, "(sha256:[0-9a-f]{64})");
    }

    private static String cabinet(Case one) {
        StringBuilder text =
                new StringBuilder("[[cabinet]]\nname = \"" + one.cabinet() + "\"\n")
                        .append("set_point_celsius = 31.5\n");
        for (String place : List.of("top", "middle", "bottom", "room")) {
            text.append("[[cabinet.probe]]\nname = \"")
                    .append(place)
                    .append("\"\nposition = \"")
                    .append(place)
                    .append("\"\ndriver = \"simulated\"\n");
        }
        for (String part : List.of("heater", "cut_off_relay", "fan")) {
            text.append("[cabinet.").append(part).append("]\ndriver = \"simulated\"\n");
        }
        text.append("[cabinet.fan_tachometer]\ndriver = \"simulated\"\n");
        text.append("[cabinet.door]\ndriver = \"simulated\"\n");
        text.append("[cabinet.simulated]\nvolume_litres = 250\nambient_celsius = 21\n");
        text.append("ambient_swing_kelvin = 1\nstart_celsius = 31\n");
        return text.append("[[cabinet.fault]]\nat = \"")
                .append(SOUND_HOURS)
                .append("h\"\nkind = \"")
                .append(one.kind())
                .append("\"\n")
                .append(one.keys())
                .append("\n")
                .toString();
    }

    @Test
    void everyKindOfFaultReachesAPersonByMailAndBroker() throws Exception {
        try (KillablePost post = new KillablePost(folder.resolve("post"))) {
            Path settings = folder.resolve("monitor.toml");
            Path config = folder.resolve("agent.toml");
            KeyPin monitorKey = programs.monitorKey(settings);
            StringBuilder agent =
                    new StringBuilder(
                            """
                            [agent]
                            name = "egg room"
                            state_folder = "state"
                            [link.tls]
                            listen = "127.0.0.1:0"
                            trusted_keys = ["%s"]
                            [simulation]
                            seed = 11
                            speed = %d
                            """
                                    .formatted(monitorKey, SPEED));
            cases().forEach(one -> agent.append(cabinet(one)));
            Files.writeString(config, agent);
            String agentKey =
                    said(
                            "key",
                            Programs.AGENT.toString(),
                            "identity",
                            "--config",
                            config.toString());
            programs.start(
                    "agent",
                    Programs.AGENT.toString(),
                    "run",
                    "--announce",
                    "--config",
                    config.toString());
            Instant faultAt = SystemClock.wall().now().plusSeconds(SOUND_HOURS * 3600L / SPEED);
            String port = programs.await("agent", "\"tlsPort\":([0-9]+)");
            Files.writeString(
                    settings,
                    "[monitor]\ndata_folder = \"data\"\n"
                            + post.settings()
                            + "[[agent]]\nname = \"egg room\"\naddress = \"127.0.0.1:"
                            + port
                            + "\"\nkey = \""
                            + agentKey
                            + "\"\n");
            programs.start(
                    "monitor",
                    Programs.MONITOR.toString(),
                    "watch",
                    "--every",
                    "30",
                    "--settings",
                    settings.toString());
            programs.await("monitor", "(egg room / mains-cut)");
            Map<Case, String> told = new LinkedHashMap<>();
            FloodStore store = new FloodStore(folder.resolve("data"));
            long end = SystemClock.monotonic().nanos() + SECONDS_MAX * 1_000_000_000L;
            while (told.size() < cases().size() && SystemClock.monotonic().nanos() < end) {
                TimeUnit.SECONDS.sleep(1);
                for (Case one : cases()) {
                    if (!told.containsKey(one)) {
                        told(one, store, post, faultAt).ifPresent(how -> told.put(one, how));
                    }
                }
            }
            told.forEach((one, how) -> System.out.println(one.kind() + ": " + how));
            List<String> missed = new ArrayList<>();
            for (Case one : cases()) {
                if (!told.containsKey(one)) {
                    missed.add(one.kind() + " (alarms: " + alarms(one, store) + ")");
                }
            }
            assertEquals(List.of(), missed, "nobody heard of it");
        }
    }

    private static List<String> alarms(Case one, FloodStore store) {
        return store.annunciations().stream()
                .filter(change -> change.subject().endsWith("/ " + one.cabinet()))
                .map(FloodStore.Change::code)
                .toList();
    }

    /** How a person was told of it, once both a mail and the broker's message name it. */
    private static Optional<String> told(
            Case one, FloodStore store, KillablePost post, Instant faultAt) throws IOException {
        List<FloodStore.Change> right =
                store.annunciations().stream()
                        .filter(change -> change.subject().endsWith("/ " + one.cabinet()))
                        .filter(change -> one.codes().contains(change.code()))
                        .filter(change -> !change.at().isBefore(faultAt))
                        .toList();
        for (FloodStore.Change change : right) {
            String words = change.code().replace('-', ' ');
            Optional<KillablePost.Mail> mail =
                    post.mails().stream()
                            .filter(each -> each.body().contains(one.cabinet()))
                            .filter(each -> each.body().contains(words))
                            .findFirst();
            boolean isPublished =
                    post.published().stream()
                            .anyMatch(
                                    each ->
                                            each.notice().eventId().equals(change.event())
                                                    && each.notice().cabinets().stream()
                                                            .anyMatch(
                                                                    facts ->
                                                                            facts.cabinet()
                                                                                            .endsWith(
                                                                                                    "/ "
                                                                                                            + one
                                                                                                                    .cabinet())
                                                                                    && facts.what()
                                                                                            .contains(
                                                                                                    words)));
            if (mail.isPresent() && isPublished) {
                double simulated =
                        (mail.get().at().toEpochMilli() - faultAt.toEpochMilli()) / 60e3 * SPEED;
                return Optional.of(
                        String.format(
                                Locale.ROOT,
                                "%s, mail after about %.0f simulated minutes: %s",
                                change.code(),
                                simulated,
                                mail.get().subject()));
            }
        }
        return Optional.empty();
    }
}
