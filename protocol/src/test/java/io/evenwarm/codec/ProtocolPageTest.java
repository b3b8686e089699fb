package io.evenwarm.codec;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import com.fasterxml.jackson.dataformat.cbor.databind.CBORMapper;
import io.evenwarm.frame.FrameReader;
import io.evenwarm.message.Message;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** docs/protocol.md says what the programs do. */
final class ProtocolPageTest {

    private final MessageCodec codec = new MessageCodec();
    private final CBORMapper plain = new CBORMapper();
    private final String page;
    private final Cddl schema;

    ProtocolPageTest() throws IOException {
        page = Files.readString(Path.of("..", "docs", "protocol.md"));
        schema = new Cddl(block("cddl"));
    }

    @Test
    void thePagesVectorsAreThoseOfARealRun() {
        assertEquals(VectorPrinter.forThePage(), block("text"));
    }

    @Test
    void thePagesFramesDecodeToThePagesPayloads() {
        List<String> payloads = digitsBehind("payload");
        List<String> frames = digitsBehind("frame  ");
        FrameReader reader = new FrameReader();
        List<String> got = new ArrayList<>();
        for (String frame : frames) {
            reader.feed(
                    HexFormat.of().parseHex(frame),
                    each -> got.add(HexFormat.of().formatHex(each)));
        }
        assertEquals(5, frames.size());
        assertEquals(payloads, got);
    }

    @Test
    void everySampleMessageFitsThePagesSchema() throws IOException {
        for (Map.Entry<String, Message> sample : SampleMessages.all().entrySet()) {
            assertTrue(
                    schema.fits("message", plain.readTree(codec.encode(sample.getValue()))),
                    sample.getKey());
        }
    }

    @Test
    void everyRandomMessageFitsThePagesSchema() throws IOException {
        for (int seed = 0; seed < 1_000; seed++) {
            Message message = new RandomMessages(seed).message();
            assertTrue(
                    schema.fits("message", plain.readTree(codec.encode(message))), "seed " + seed);
        }
    }

    /** A schema that takes anything would pass the tests above. */
    @Test
    void whatTheSchemaRequiresTheCodecRequiresAndTheOtherWayRound() throws IOException {
        Set<String> disagreements = new TreeSet<>();
        for (Map.Entry<String, Message> sample : SampleMessages.all().entrySet()) {
            JsonNode whole = plain.readTree(codec.encode(sample.getValue()));
            for (String pointer : pointers(whole, "", new HashSet<>())) {
                JsonNode less = whole.deepCopy();
                int slash = pointer.lastIndexOf('/');
                ((ObjectNode) less.at(pointer.substring(0, slash)))
                        .remove(pointer.substring(slash + 1));
                boolean fits = schema.fits("message", less);
                boolean understood =
                        codec.decode(plain.writeValueAsBytes(less)).value().isPresent();
                if (fits != understood) {
                    disagreements.add(sample.getKey() + " without " + pointer);
                }
            }
        }
        // CDDL could say "one of these two or a doubt" only at the cost of three rules.
        disagreements.removeIf(each -> each.endsWith("/celsius") || each.endsWith("/doubt"));
        disagreements.removeIf(each -> each.endsWith("/humidityPercent"));
        assertEquals(Set.of(), disagreements);
    }

    @Test
    void theSchemaRefusesWrongKinds() throws IOException {
        JsonNode batch = plain.readTree(codec.encode(SampleMessages.named("history-batch")));
        ((ObjectNode) batch.at("/records/0")).put("guard", "asleep");
        assertFalse(schema.fits("message", batch));
        JsonNode time = plain.readTree(codec.encode(SampleMessages.named("time")));
        ((ObjectNode) time.at("/moment")).put("boot", new byte[12]);
        assertFalse(schema.fits("message", time));
        assertTrue(schema.ruleNames().contains("journal-record"));
    }

    @Test
    void thePageSpeaksOfTheVersionOfToday() {
        assertTrue(page.contains("This page is version **" + MessageCodec.VERSION + "**."));
    }

    /** Where every key of every map is, as JSON Pointers (RFC 6901). */
    private static Set<String> pointers(JsonNode node, String at, Set<String> found) {
        node.properties()
                .forEach(
                        each -> {
                            found.add(at + "/" + each.getKey());
                            pointers(each.getValue(), at + "/" + each.getKey(), found);
                        });
        if (node.isArray()) {
            for (int i = 0; i < node.size(); i++) {
                pointers(node.get(i), at + "/" + i, found);
            }
        }
        return found;
    }

    private String block(String language) {
        Matcher matcher =
                Pattern.compile("```" + language + "\n(.*?)```", Pattern.DOTALL).matcher(page);
        assertTrue(matcher.find(), "no block " + language);
        return matcher.group(1);
    }

    /** The digits of each such vector; a line that begins deeper goes on with the one before. */
    private List<String> digitsBehind(String head) {
        List<String> all = new ArrayList<>();
        boolean goesOn = false;
        for (String line : block("text").lines().toList()) {
            if (line.startsWith("  " + head + " ")) {
                all.add(line.substring(head.length() + 3).strip());
                goesOn = true;
            } else if (goesOn && line.startsWith(" ".repeat(head.length() + 3))) {
                all.add(all.remove(all.size() - 1) + line.strip());
            } else {
                goesOn = false;
            }
        }
        return all;
    }
}
