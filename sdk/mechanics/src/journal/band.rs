/// A symmetric positive definite matrix of narrow band, factored in place as `L D Lᵀ` and solved.
#[derive(Debug, Clone)]
pub(super) struct Band {
    width: usize,
    /// Row by row: diagonal, then the entries at distance 1 to `width` below it.
    entries: Vec<f64>,
}

impl Band {
    /// An empty matrix of `rows` rows with `width` bands below the diagonal.
    pub fn new(rows: usize, width: usize) -> Self {
        Self {
            width,
            entries: vec![0.0; rows * (width + 1)],
        }
    }

    /// Sets every entry to 0.
    pub fn clear(&mut self) {
        self.entries.fill(0.0);
    }

    /// Adds to the entry at `(row, row − distance)`.
    pub fn add(&mut self, row: usize, distance: usize, value: f64) {
        self.entries[row * (self.width + 1) + distance] += value;
    }

    /// Solves for the right side in place. The matrix is used up.
    pub fn solve(&mut self, right: &mut [f64]) {
        let (width, stride) = (self.width, self.width + 1);
        for row in 0..right.len() {
            let reach = width.min(row);
            // Entries become those of L times D, then L: u = l d.
            let (done, rest) = self.entries.split_at_mut(row * stride);
            let current = &mut rest[..stride];
            for distance in (1..=reach).rev() {
                let column = row - distance;
                if current[distance] == 0.0 {
                    continue; // nothing couples across the empty part
                }
                let above = &done[column * stride..(column + 1) * stride];
                let u = current[distance];
                // Columns right of `column` in this row lose the product with it.
                for nearer in 1..distance {
                    let other = &done[(row - nearer) * stride..(row - nearer + 1) * stride];
                    current[nearer] -= u * other[distance - nearer];
                }
                let l = u / above[0];
                current[0] -= l * u;
                current[distance] = l;
                right[row] -= l * right[column];
            }
        }
        for (value, row) in right.iter_mut().zip(self.entries.chunks(stride)) {
            *value /= row[0];
        }
        for row in (0..right.len()).rev() {
            let value = right[row];
            for distance in 1..=width.min(row) {
                right[row - distance] -= self.entries[row * stride + distance] * value;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A second-difference matrix with a second band: the product of matrix and solution is the right side.
    #[test]
    fn the_solution_solves() {
        let rows = 9;
        let entry = |i: usize, j: usize| match i.abs_diff(j) {
            0 => 4.0 + i as f64,
            1 => -1.0 - 0.1 * i.max(j) as f64,
            3 => -0.5,
            _ => 0.0,
        };
        let mut band = Band::new(rows, 3);
        for row in 0..rows {
            for distance in 0..=3.min(row) {
                band.add(row, distance, entry(row, row - distance));
            }
        }
        let right: Vec<f64> = (0..rows).map(|i| 1.0 - 0.3 * i as f64).collect();
        let mut solution = right.clone();
        band.solve(&mut solution);
        for (i, expected) in right.iter().enumerate() {
            let product: f64 = (0..rows).map(|j| entry(i, j) * solution[j]).sum();
            assert!((product - expected).abs() < 1e-12, "{i}: {product}");
        }
    }
}
