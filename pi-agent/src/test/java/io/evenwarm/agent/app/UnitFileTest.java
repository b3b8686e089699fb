package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What must hold of the shipped unit file: systemd.service(5), systemd.exec(5), systemd 252. */
final class UnitFileTest {

    private static final Duration MOST = Duration.ofSeconds(10);

    /** A Java program that starts, drives some lines off and ends, on a slow board; generous. */
    private static final Duration OUTPUTS_OFF = Duration.ofSeconds(4);

    private UnitFile unit;

    @BeforeEach
    void read() throws IOException {
        unit = UnitFile.read();
    }

    @Test
    void outputsAreDrivenOffBeforeEachStartAndAfterEachEnd() {
        List<String> off =
                List.of(
                        Path.of("bin/evenwarm-agent").toAbsolutePath().toString(),
                        "outputs-off",
                        "--config",
                        Path.of("a.toml").toAbsolutePath().toString());
        Path script = Path.of("bin/evenwarm-agent");
        assertEquals(off, unit.command("ExecStopPost", script, Path.of("a.toml")));
        assertEquals(off, unit.command("ExecStartPre", script, Path.of("a.toml")));
        assertFalse(unit.value("ExecStopPost").startsWith("-"), "a failure must be seen");
        assertTrue(unit.value("ExecStartPre").startsWith("-"), "but must not keep eggs cold");
        assertEquals(Map.of("EVENWARM_OUTPUTS_OFF_AFTERWARDS", "1"), unit.environment());
    }

    @Test
    void silenceAndAHangingEndLeaveTimeForOutputsOffWithinTenSeconds() {
        assertEquals("notify", unit.value("Type"));
        // The tick's last message may be as old as the limit before anybody can know.
        Duration silent = unit.seconds("WatchdogSec").plus(OUTPUTS_OFF);
        assertTrue(silent.compareTo(MOST) <= 0, silent.toString());
        Duration stopped = unit.seconds("TimeoutStopSec").plus(OUTPUTS_OFF);
        assertTrue(stopped.compareTo(MOST) <= 0, stopped.toString());
        assertEquals("SIGKILL", unit.value("WatchdogSignal"));
    }

    @Test
    void itIsStartedAgainForeverButNotWithAFaultyConfiguration() {
        assertEquals("always", unit.value("Restart"));
        assertEquals("0", unit.value("StartLimitIntervalSec"));
        assertEquals(Integer.toString(ExitCode.BAD_INPUT), unit.value("RestartPreventExitStatus"));
        // A watchdog device (15 s on a Raspberry Pi) must find the agent back in time.
        assertTrue(unit.seconds("RestartSec").compareTo(Duration.ofSeconds(5)) <= 0);
    }

    /** Each of these would take away what the drivers or Java need. */
    @Test
    void noHardeningHidesTheDevices() {
        for (String key :
                List.of(
                        "ProtectKernelTunables",
                        "PrivateDevices",
                        "ProtectClock",
                        "DevicePolicy",
                        "DeviceAllow",
                        "MemoryDenyWriteExecute",
                        "DynamicUser")) {
            assertFalse(unit.has(key), key);
        }
    }
}
