package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import io.evenwarm.link.Identity;
import io.evenwarm.testing.PlainCabinet;
import io.evenwarm.testing.PtyPair;
import io.evenwarm.testing.Tools;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * A client in Python that was written from {@code docs/protocol.md} alone, and the packaged agent:
 * refused outside the window, paired within it, it reads all history and live data; what it may do
 * is what the person at the agent said.
 */
@Timeout(240)
final class SecondClientIT {

    private static final String CONFIGURATION =
            """
            [agent]
            name = "egg room"
            state_folder = "state"
            [link.tls]
            listen = "127.0.0.1:0"
            [journal]
            interval_seconds = 1
            commit_seconds = 1
            [simulation]
            speed = 60
            """
                    + PlainCabinet.NORTH;

    private static final Path SCRIPT =
            Path.of("src", "test", "resources", "second-client", "second_client.py");

    private final ObjectMapper json = new ObjectMapper();
    private final Path folder;
    private final Path config;
    private final Path identity;

    SecondClientIT(@TempDir Path folder) {
        this.folder = folder;
        this.config = folder.resolve("agent.toml");
        this.identity = folder.resolve("client.pem");
    }

    @BeforeEach
    void makeReady() throws IOException {
        Tools.need("python3", "a second client", "python3");
        Files.writeString(config, CONFIGURATION);
        Identity.create("second client").save(identity);
    }

    private List<String> overTls(int port, String what, String... more) {
        List<String> arguments =
                new ArrayList<>(
                        List.of(what, "127.0.0.1", Integer.toString(port), identity.toString()));
        arguments.addAll(List.of(more));
        return arguments;
    }

    /** The script in a process of its own. */
    private final class Client implements AutoCloseable {
        private final Process process;
        private final BufferedReader out;

        Client(int port, String what, String... more) throws IOException {
            this(overTls(port, what, more));
        }

        Client(List<String> arguments) throws IOException {
            List<String> command = new ArrayList<>(List.of("python3", SCRIPT.toString()));
            command.addAll(arguments);
            process =
                    new ProcessBuilder(command)
                            .redirectError(
                                    ProcessBuilder.Redirect.appendTo(
                                            folder.resolve("client.log").toFile()))
                            .start();
            out = process.inputReader(StandardCharsets.UTF_8);
        }

        String line() throws IOException {
            String line = out.readLine();
            if (line == null) {
                throw new IOException(
                        "it ended and said: " + Files.readString(folder.resolve("client.log")));
            }
            return line;
        }

        void type(String line) throws IOException {
            SecondClientIT.type(process, line);
        }

        JsonNode result() throws IOException, InterruptedException {
            JsonNode result = json.readTree(line());
            assertTrue(process.waitFor(30, TimeUnit.SECONDS), "it does not end");
            return result;
        }

        @Override
        public void close() {
            process.destroyForcibly();
        }
    }

    private static void type(Process process, String line) throws IOException {
        Writer in = process.outputWriter(StandardCharsets.UTF_8);
        in.write(line + "\n");
        in.flush();
    }

    private AgentProcess command(String... arguments) throws IOException {
        List<String> all = new ArrayList<>(List.of(arguments));
        all.addAll(List.of("--config", config.toString()));
        return AgentProcess.start(folder.resolve("agent.log"), all.toArray(String[]::new));
    }

    /** Up to the question, and gives the digits that stand before it. */
    private static String digits(AgentProcess pair) throws IOException {
        String line = pair.line();
        while (!line.matches(" {4}[0-9]{3} [0-9]{3}")) {
            line = pair.line();
        }
        assertTrue(pair.line().startsWith("Are they the same?"));
        return line.replace(" ", "");
    }

    private JsonNode pairAs(int port, String role) throws IOException, InterruptedException {
        try (AgentProcess pair = command("pair", "--role", role)) {
            assertTrue(pair.line().startsWith("Monitors may be paired"));
            assertEquals("waiting for a monitor to ask", pair.line());
            try (Client client = new Client(port, "pair", "second client")) {
                String there = client.line();
                assertEquals(digits(pair), there, "both ends show the same digits");
                client.type("yes");
                type(pair.process(), "yes");
                JsonNode result = client.result();
                assertEquals(0, pair.end());
                return result;
            }
        }
    }

    @Test
    void aSecondClientIsRefusedPairsReadsAndDoesWhatItsRoleAllows()
            throws IOException, InterruptedException {
        try (AgentProcess agent = command("run", "--announce")) {
            JsonNode announced = json.readTree(agent.line());
            int port = announced.get("tlsPort").asInt();
            String pin = announced.get("tlsKey").asText();
            assertRefused(port, pin);

            JsonNode paired = pairAs(port, "look");
            assertEquals("look", paired.get("role").asText(), paired.toString());
            assertEquals("egg room", paired.get("agent").asText());
            assertEquals(pin, paired.get("pin").asText());

            JsonNode read;
            try (Client client = new Client(port, "read", pin, "300", "3")) {
                read = client.result();
            }
            assertTrue(read.get("inOrder").asBoolean(), read.toString());
            assertEquals(1, read.get("first").asInt());
            assertTrue(read.get("records").asInt() >= 300, read.toString());
            assertTrue(read.get("batches").asInt() >= 300 / 64, read.toString());
            assertTrue(read.at("/live/north").asInt() >= 10, read.toString());
            assertEquals(31.5, read.at("/setPointCelsius/north").asDouble());
            assertEquals(0, read.get("discarded").asInt());

            assertEquals("refused", ask(port, pin).get("outcome").asText());
            assertEquals("operate", pairAs(port, "operate").get("role").asText());
            JsonNode done = ask(port, pin);
            System.out.println(
                    "kept-5 second client: paired, "
                            + read.get("records")
                            + " records in order in "
                            + read.get("batches")
                            + " batches, "
                            + read.at("/live/north")
                            + " live snapshots in 3 s; a command: "
                            + done);
            assertFalse(done.get("words").asText().contains("may look only"), done.toString());

            String begin = Identity.load(identity).pin().toString();
            try (AgentProcess remove = command("pair", "--remove", begin)) {
                assertEquals(0, remove.end());
            }
            assertRefused(port, pin);
        }
    }

    private void assertRefused(int port, String pin) throws IOException, InterruptedException {
        for (String what : List.of("pair", "read")) {
            try (Client client =
                    what.equals("pair")
                            ? new Client(port, what, "second client")
                            : new Client(port, what, pin, "1", "1")) {
                JsonNode result = client.result();
                assertTrue(
                        result.path("failed").asText().startsWith("not let in"),
                        what + ": " + result);
            }
        }
    }

    private JsonNode ask(int port, String pin) throws IOException, InterruptedException {
        try (Client client = new Client(port, "command", pin, "north")) {
            return client.result();
        }
    }

    @Test
    void noAtTheAgentIsNoAndWithoutTheCommandNobodyIsPaired()
            throws IOException, InterruptedException {
        try (AgentProcess agent = command("run", "--announce")) {
            JsonNode announced = json.readTree(agent.line());
            int port = announced.get("tlsPort").asInt();
            String pin = announced.get("tlsKey").asText();
            try (AgentProcess pair = command("pair")) {
                assertTrue(pair.line().startsWith("Monitors may be paired"));
                assertEquals("waiting for a monitor to ask", pair.line());
                try (Client client = new Client(port, "pair", "second client")) {
                    client.line();
                    digits(pair);
                    client.type("yes");
                    type(pair.process(), "no");
                    JsonNode result = client.result();
                    assertFalse(result.path("paired").asBoolean(false), result.toString());
                }
                try (Client client = new Client(port, "pair", "second client")) {
                    client.line();
                    digits(pair);
                    pair.kill();
                    client.type("yes");
                    JsonNode result = client.result();
                    assertFalse(result.path("paired").asBoolean(false), result.toString());
                }
            }
            assertRefused(port, pin);
        }
    }

    @Test
    void onASerialLineTheAgentProvesItsKeyToASecondClient()
            throws IOException, InterruptedException {
        PtyPair.assumeThatSocatIsThere();
        Files.writeString(
                config,
                CONFIGURATION.replace(
                        "[journal]",
                        "[link.serial]\nport = \"" + folder.resolve("left") + "\"\n[journal]"));
        try (PtyPair cable = PtyPair.open(folder);
                AgentProcess agent = command("run", "--announce")) {
            String pin = json.readTree(agent.line()).get("tlsKey").asText();
            JsonNode proved = prove(cable.right(), pin);
            assertTrue(proved.path("proved").asBoolean(), proved.toString());
            assertEquals("egg room", proved.get("agent").asText());
            assertFalse(proved.get("provesAnotherNonce").asBoolean(true), "it is no replay");
            String other = Identity.load(identity).pin().toString();
            assertEquals(
                    "another key than the pinned one",
                    prove(cable.right(), other).path("failed").asText());
        }
    }

    private JsonNode prove(Path device, String pin) throws IOException, InterruptedException {
        try (Client client = new Client(List.of("prove", device.toString(), pin))) {
            return client.result();
        }
    }
}
