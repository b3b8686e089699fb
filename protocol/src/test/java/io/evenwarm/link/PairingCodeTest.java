package io.evenwarm.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;

final class PairingCodeTest {

    private static final KeyPin AGENT = new KeyPin("11".repeat(32));
    private static final KeyPin MONITOR = new KeyPin("22".repeat(32));
    private static final KeyPin BETWEEN = new KeyPin("99".repeat(32));
    private static final String AGENT_NONCE = "33".repeat(32);
    private static final String MONITOR_NONCE = "44".repeat(32);

    /** Both figures were computed by another program, with Python's hashlib. */
    @Test
    void theExampleOfTheProtocolsPageIsWhatIsComputed() throws IOException {
        String page = Files.readString(Path.of("..", "docs", "protocol.md"));
        String commitment = PairingCode.commitment(AGENT, MONITOR, AGENT_NONCE);
        String code = PairingCode.code(AGENT, MONITOR, AGENT_NONCE, MONITOR_NONCE);
        assertTrue(
                page.contains(
                        "```pairing\ncommitment " + commitment + "\ncode       " + code + "\n```"),
                commitment + " " + code);
    }

    @Test
    void theDigitsDependOnEverythingThatEitherEndSaw() {
        String code = PairingCode.code(AGENT, MONITOR, AGENT_NONCE, MONITOR_NONCE);
        Set<String> others = new HashSet<>();
        others.add(PairingCode.code(BETWEEN, MONITOR, AGENT_NONCE, MONITOR_NONCE));
        others.add(PairingCode.code(AGENT, BETWEEN, AGENT_NONCE, MONITOR_NONCE));
        others.add(PairingCode.code(MONITOR, AGENT, AGENT_NONCE, MONITOR_NONCE));
        others.add(PairingCode.code(AGENT, MONITOR, MONITOR_NONCE, MONITOR_NONCE));
        others.add(PairingCode.code(AGENT, MONITOR, AGENT_NONCE, AGENT_NONCE));
        assertEquals(5, others.size());
        assertTrue(!others.contains(code), others + " hold " + code);
        assertNotEquals(
                PairingCode.commitment(AGENT, MONITOR, AGENT_NONCE),
                PairingCode.commitment(AGENT, BETWEEN, AGENT_NONCE));
    }

    /**
     * Somebody in between has a session with each end, and to each end another key. Bound to its
     * nonce before it knows the monitor's, and without the agent's while it chooses its own, all it
     * can do is guess: in 200,000 tries about 0.2 fit.
     */
    @Test
    void somebodyInBetweenWhoMustChooseFirstCanOnlyGuess() {
        Random random = new Random(6189);
        int same = 0;
        for (int i = 0; i < 200_000; i++) {
            String toMonitor = PairingCode.code(BETWEEN, MONITOR, nonce(random), nonce(random));
            String toAgent = PairingCode.code(AGENT, BETWEEN, nonce(random), nonce(random));
            same += toMonitor.equals(toAgent) ? 1 : 0;
        }
        // Poisson with mean 0.2: more than 4 has a chance of 3 in 10^6, and the seed is fixed.
        assertTrue(same <= 4, same + " of 200,000 fit");
    }

    @Test
    void noncesAreNeverTheSameAndTheDigitsAreAlwaysSix() {
        Set<String> nonces = new HashSet<>();
        for (int i = 0; i < 1000; i++) {
            String nonce = PairingCode.nonce();
            assertEquals(64, nonce.length());
            nonces.add(nonce);
            String code = PairingCode.code(AGENT, MONITOR, nonce, MONITOR_NONCE);
            assertTrue(code.matches("[0-9]{6}"), code);
        }
        assertEquals(1000, nonces.size());
        assertEquals("012 345", PairingCode.spaced("012345"));
    }

    private static String nonce(Random random) {
        byte[] octets = new byte[32];
        random.nextBytes(octets);
        return HexFormat.of().formatHex(octets);
    }
}
