package io.evenwarm.codec;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.dataformat.cbor.databind.CBORMapper;
import java.io.IOException;
import java.math.BigInteger;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * The CBOR library, as configured here, against RFC 8949: Appendix A (examples; the values are
 * those of the working group's appendix_a.json) and Appendix F.1 (items that are not well-formed).
 */
final class CborVectorsTest {

    private static final HexFormat HEX = HexFormat.of();

    private final CBORMapper cbor = Schema.cbor().build();

    @ParameterizedTest(name = "RFC 8949 App. A: {0} is {1}")
    @CsvSource({
        "0, 00",
        "10, 0a",
        "23, 17",
        "24, 1818",
        "100, 1864",
        "1000, 1903e8",
        "1000000, 1a000f4240",
        "-1, 20",
        "-10, 29",
        "-100, 3863",
        "-1000, 3903e7"
    })
    void wholeNumbersAreWrittenAndReadAsInAppendixA(long number, String hex) throws IOException {
        assertEquals(hex, HEX.formatHex(cbor.writeValueAsBytes(number)));
        assertEquals(number, cbor.readValue(HEX.parseHex(hex), Long.class));
    }

    @ParameterizedTest(name = "RFC 8949 App. A: {1} is read as {0}")
    @CsvSource({
        "18446744073709551615, 1bffffffffffffffff",
        "-18446744073709551616, 3bffffffffffffffff"
    })
    void wholeNumbersBeyond64BitsAreReadForWhatTheyAre(BigInteger number, String hex)
            throws IOException {
        assertEquals(number, cbor.readTree(HEX.parseHex(hex)).bigIntegerValue());
    }

    /** No field holds such a number: it must not come out as another one. */
    @ParameterizedTest
    @ValueSource(strings = {"1bffffffffffffffff", "3bffffffffffffffff", "1b8000000000000000"})
    void wholeNumbersBeyondALongAreNotUnderstood(String hex) {
        byte[] octets = HEX.parseHex("a2" + ACKNOWLEDGE + text("sequence") + hex);
        assertInstanceOf(Decoded.NotUnderstood.class, new MessageCodec().decode(octets));
    }

    @ParameterizedTest(name = "RFC 8949 App. A: {1} is read as {0}")
    @CsvSource({
        "0.0, f90000",
        "-0.0, f98000",
        "1.0, f93c00",
        "1.5, f93e00",
        "65504.0, f97bff",
        "5.960464477539063e-8, f90001",
        "-4.0, f9c400",
        "100000.0, fa47c35000",
        "1.1, fb3ff199999999999a",
        "-4.1, fbc010666666666666",
        "Infinity, f97c00",
        "NaN, f97e00",
        "-Infinity, f9fc00"
    })
    void fractionsOfEveryWidthAreRead(double number, String hex) throws IOException {
        assertEquals(number, cbor.readValue(HEX.parseHex(hex), Double.class));
    }

    /** Never in 16 bits, which readers know least; in 32 where nothing is lost (RFC 8949 s.4.1). */
    @ParameterizedTest(name = "{0} is written as {1}")
    @CsvSource({
        "100000.0, fa47c35000",
        "1.1, fb3ff199999999999a",
        "-4.1, fbc010666666666666",
        "1.5, fa3fc00000"
    })
    void fractionsAreWrittenIn32BitsWhereNothingIsLost(double number, String hex)
            throws IOException {
        assertEquals(hex, HEX.formatHex(cbor.writeValueAsBytes(number)));
    }

    @Test
    void simpleValuesTextsAndContainersAreReadAsInAppendixA() throws IOException {
        assertTrue(read("f5").booleanValue());
        assertTrue(read("f4").isBoolean() && !read("f4").booleanValue());
        assertTrue(read("f6").isNull());
        assertTrue(read("f7").isNull(), "undefined is taken as null");
        assertEquals("a", read("6161").textValue());
        assertEquals("IETF", read("6449455446").textValue());
        assertEquals("ü", read("62c3bc").textValue());
        assertArrayEquals(new byte[] {1, 2, 3, 4}, read("4401020304").binaryValue());
        assertEquals("[1,2,3]", read("83010203").toString());
        assertEquals("{\"1\":2,\"3\":4}", read("a201020304").toString());
        assertEquals("{\"a\":1,\"b\":[2,3]}", read("a26161016162820203").toString());
    }

    @Test
    void textsAndArraysAreWrittenAsInAppendixA() throws IOException {
        assertEquals("62c3bc", HEX.formatHex(cbor.writeValueAsBytes("ü")));
        assertEquals("6449455446", HEX.formatHex(cbor.writeValueAsBytes("IETF")));
        assertEquals("83010203", HEX.formatHex(cbor.writeValueAsBytes(List.of(1, 2, 3))));
        assertEquals("4401020304", HEX.formatHex(cbor.writeValueAsBytes(new byte[] {1, 2, 3, 4})));
        assertEquals("f5", HEX.formatHex(cbor.writeValueAsBytes(true)));
    }

    @Test
    void tagsAreReadThroughAndIndefiniteLengthsAreRead() throws IOException {
        assertEquals(1363896240, read("c11a514b67b0").longValue());
        assertEquals(1363896240.5, read("c1fb41d452d9ec200000").doubleValue());
        assertEquals(
                "2013-03-21T20:04:00Z",
                read("c074323031332d30332d32315432303a30343a30305a").textValue());
        assertArrayEquals(new byte[] {1, 2, 3, 4, 5}, read("5f42010243030405ff").binaryValue());
        assertEquals("{\"Fun\":true,\"Amt\":-2}", read("bf6346756ef563416d7421ff").toString());
    }

    /** Appendix F.1, each as the value of a key that this version would skip. */
    @ParameterizedTest(name = "RFC 8949 App. F.1: {0} is not understood")
    @ValueSource(
            strings = {
                // End of input in a head.
                "18, 19, 1a, 1b, 1901, 1a0102, 1b01020304050607, 38, 58, 78, 98, 9a01ff00, b8, d8",
                "f8, f900, fa0000, fb000000",
                // Subkind 1, reserved additional information.
                "1c, 1d, 1e, 3c, 3d, 3e, 5c, 5d, 5e, 7c, 7d, 7e, 9c, 9d, 9e, bc, bd, be, dc, dd",
                "de, fc, fd, fe",
                // Subkind 3, chunks of the wrong type or of indefinite length.
                "5f00ff, 5f21ff, 5f6100ff, 5f80ff, 5fa0ff, 5fc000ff, 5fe0ff, 7f4100ff",
                "5f5f4100ffff, 7f7f6100ffff",
                // Subkind 4, a break where none may be.
                "ff, 81ff, 8200ff, a1ff, a1ff00, a100ff, a20000ff, 9f81ff, 9f829f819f9fffffffff",
                "bf00ff, bf000000ff",
                // Subkind 5, indefinite length of what has none.
                "1f, 3f, df"
            })
    void itemsThatAreNotWellFormedAreNotUnderstood(String items) {
        Map<String, Decoded<?>> understood = new LinkedHashMap<>();
        for (String item : items.split(", ", -1)) {
            byte[] octets = HEX.parseHex("a2" + KEEP_ALIVE + text("later") + item);
            Decoded<?> decoded = new MessageCodec().decode(octets);
            if (decoded.value().isPresent()) {
                understood.put(item, decoded);
            }
        }
        assertEquals(Map.of(), understood);
    }

    private static final String ACKNOWLEDGE = text("type") + text("acknowledge");
    private static final String KEEP_ALIVE = text("type") + text("keep-alive");

    /** A short text in CBOR: major type 3 with its length in the head. */
    private static String text(String ascii) {
        byte[] octets = ascii.getBytes(US_ASCII);
        return HEX.toHexDigits((byte) (0x60 + octets.length)) + HEX.formatHex(octets);
    }

    private JsonNode read(String hex) throws IOException {
        return cbor.readTree(HEX.parseHex(hex));
    }
}
